// The page: what stands around its screens.
import { render } from "preact";
import { AfterScreen } from "./after";
import { CheckScreen } from "./check";
import { CloseScreen } from "./close";
import { ChecksScreen } from "./foreman/checks";
import { PlanScreen } from "./foreman/plan";
import { NewJob } from "./foreman/start";
import { DigScreen, ShownScreen } from "./dig";
import { html } from "./html";
import { HomeScreen } from "./home";
import { MapScreen } from "./map";
import { MeScreen } from "./me";
import { fetchInIdleTime } from "./paper";
import { SetUpScreen } from "./setup";
import * as s from "./state";

function Screen() {
  const [, what, a, b, c] = s.route.value.split("/").map(decodeURIComponent);
  if (!s.home.value) return s.shown.value ? html`<${ShownScreen} />` : html`<${Starting} />`;
  switch (what) {
    case "dig": return html`<${DigScreen} key=${`${a}/${b}`} />`;
    case "setup": return html`<${SetUpScreen} tag=${a ?? ""} />`;
    case "close": return html`<${CloseScreen} tag=${a} key=${a} />`;
    case "after": return html`<${AfterScreen} tag=${a} key=${a} />`;
    case "check": return html`<${CheckScreen} />`;
    case "map": return html`<${MapScreen} />`;
    case "plan": return html`<${PlanScreen} what=${a ?? ""} a=${b ?? ""} b=${c ?? ""} />`;
    case "checks": return html`<${ChecksScreen} what=${a ?? ""} />`;
    case "me": return html`<${MeScreen} />`;
  }
  return html`<${HomeScreen} />`;
}

function Starting() {
  if (!s.none.value) return html`<main>${s.stale.value && html`<section class="none"><h2>${s.t("dig.noNumber")}</h2><p>${s.stale.value}</p></section>`}<p class="quiet">${s.working.value}</p></main>`;
  return html`<main><h1>Spadework</h1><p>${s.t("app.none")}</p><${NewJob} /><h2>${s.t("start.or")}</h2><p>${s.t("app.first")}</p>
    <label class="key">${s.t("app.pick")}<input type="file" name="job" multiple accept=".toml,.csv,.asc,text/*" onChange=${(e: Event) => void s.firstJob((e.target as HTMLInputElement).files)} /></label>
    <p class="quiet">${s.t("app.how")}</p></main>`;
}

/** Told to everybody on every screen. */
function Notices() {
  return html`<div class="notices" role="status" aria-live="polite">
    ${s.fault.value && html`<p class="fault">${s.fault.value} <button class="small" onClick=${() => { s.fault.value = ""; }}>${s.t("key.close")}</button></p>`}
    ${s.notice.value.map((text) => html`<p class="notice">${text}</p>`)}
    ${s.undoable.value && html`<p class="notice">${s.undoable.value.text} <button class="small" onClick=${() => void s.undo()}>${s.t("key.undo")}</button></p>`}
    ${s.home.value && s.working.value && html`<p class="quiet">${s.working.value}</p>`}
  </div>`;
}

const places = [["/", "home.title"], ["/setup", "set.title"], ["/map", "map.title"], ["/plan", "plan.title"], ["/checks", "checks.title"], ["/me", "me.title"]] as const;

function Foot() {
  const here = "/" + (s.route.value.split("/")[1] ?? "");
  return html`<footer>
    <p class="touch">${s.alone.value}${s.waiting.value ? html` · <strong>${s.t("state.waiting", { count: s.waiting.value })}</strong>` : ""}</p>
    <nav>${places.map(([to, key]) => html`<a href=${"#" + to} aria-current=${here === to || (to === "/" && here === "/dig") ? "page" : undefined}>${s.t(key)}</a>`)}</nav>
  </footer>`;
}

function Page() {
  return html`<div class=${s.dark.value ? "sheet dark" : "sheet"}><${Notices} /><${Screen} /><${Foot} /></div>`;
}

addEventListener("hashchange", () => {
  s.notice.value = [];
  s.fault.value = "";
  void s.goTo(location.hash.slice(1) || "/");
  document.querySelector("main")?.scrollTo(0, 0);
});
addEventListener("online", () => void s.sync());

render(html`<${Page} />`, document.getElementById("page")!);
void s.boot();

if ("serviceWorker" in navigator) {
  // An update waits until the page is opened next: it interrupts no entry.
  void navigator.serviceWorker.register("/offline.js").then(async (r) => {
    await navigator.serviceWorker.ready;
    s.ready.value = true;
    fetchInIdleTime();
    r.onupdatefound = () => { if (navigator.serviceWorker.controller) s.notice.value = [s.t("state.update")]; };
  });
}
