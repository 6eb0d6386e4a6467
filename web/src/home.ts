// The first screen: beams, digs, what is due.
import { html } from "./html";
import { num } from "./number";
import * as s from "./state";
import type { DigLine, TagLine } from "./types";

function Tag({ tag }: { tag: TagLine }) {
  const to = tag.state === "suspended" ? `#/close/${encodeURIComponent(tag.tag)}` : tag.state === "live" ? `#/close/${encodeURIComponent(tag.tag)}` : `#/setup/${encodeURIComponent(tag.tag)}`;
  const again = tag.state === "lost" ? "#/setup" : to;
  const key = tag.state === "suspended" || tag.state === "live" ? "dig.closeFirst" : "dig.setup";
  return html`<li class=${`tag ${tag.state}`}>
    <p><strong class="letter">${tag.tag}</strong> ${tag.text} <span class="quiet">${tag.rests}</span></p>
    ${tag.state !== "ended" && html`<a class="key" href=${again}>${s.t(key, { tag: tag.tag })}</a>`}
  </li>`;
}

function Dig({ dig }: { dig: DigLine }) {
  return html`<li><a class="dig" href=${`#/dig/${encodeURIComponent(dig.id)}`}>
    <span class="what"><strong>${dig.id}</strong> ${dig.kind}${dig.stops ? html` <span class="stopmark">${s.t("home.open")}: ${dig.stops}</span>` : ""}
      <span class="quiet">${dig.told}</span></span>
    <span class="figure">${num(dig)}${dig.several ? "…" : ""}</span>
  </a></li>`;
}

export function HomeScreen() {
  const h = s.home.value!;
  return html`<main>
    <header><h1>${h.name}</h1><p class="quiet">${h.drawing} ${h.drawing_revision} · ${s.t("home.revision", { revision: h.basis.revision })}</p></header>
    ${s.changes.value.length > 0 && html`<section class="boxed"><p><strong>${s.t("home.changed")}</strong></p>${s.changes.value.map((c) => html`<p><a href=${`#/dig/${encodeURIComponent(c.dig)}`}>${c.dig}</a> ${c.text}</p>`)}</section>`}
    ${!s.person.value && html`<${Name} />`}
    ${h.next && html`<a class="key main" href=${`#/dig/${encodeURIComponent(h.next)}`}>${s.t("home.next", { dig: h.next })}</a>`}
    ${!h.tags.some((t) => t.state === "live") && html`<a class="key main" href="#/setup">${s.t("dig.setup")}</a>`}
    <section><h2>${s.t("home.tags")}</h2><ul class="plain">${h.tags.map((tag) => html`<${Tag} tag=${tag} />`)}</ul></section>
    <section><h2>${s.t("home.digs")}</h2><ul class="plain digs">${h.digs.map((dig) => html`<${Dig} dig=${dig} />`)}</ul></section>
    <a class="key" href="#/check">${s.t("check.title")}</a>
    ${h.due.length > 0 && html`<section><h2>${s.t("home.due")}</h2><ul>${h.due.map((d) => html`<li>${d.text}</li>`)}</ul></section>`}
    ${h.asides > 0 && html`<p class="caution">${s.t("home.asides", { count: h.asides })}</p>`}
    ${h.log.length > 0 && html`<section><h2>${s.t("home.log")}</h2><table class="log"><tbody>
      ${h.log.map((l) => html`<tr><td>${l.day.slice(5)} ${l.time}</td><td>${l.person}</td><td>${l.text}</td></tr>`)}</tbody></table></section>`}
  </main>`;
}

/** Asks once who writes the records. */
export function Name() {
  return html`<form class="ask" onSubmit=${(e: SubmitEvent) => {
    e.preventDefault();
    const name = new FormData(e.target as HTMLFormElement).get("name");
    if (typeof name === "string" && name.trim()) void s.setPerson(name.trim());
  }}>
    <label>${s.t("name.ask")}<input name="name" maxlength="100" autocomplete="name" required value=${s.person.value} /></label>
    <button class="key">${s.t("key.keep")}</button>
  </form>`;
}
