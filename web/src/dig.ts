// The page that an operator digs by: head, what stops work, section, number, keys.
import { signal } from "@preact/signals";
import { html } from "./html";
import { Name } from "./home";
import { faceOf, num } from "./number";
import { Drawing } from "./scene";
import { ShotKeys } from "./shot";
import * as s from "./state";
import { TroubleKeys } from "./trouble";
import type { Point, Stand, Warning } from "./types";

export const chosen = signal(0); // point of the pattern
const open = signal<"" | "shot" | "trouble">("");
/** Closes what lies over the page. */
export const closeKeys = () => { open.value = ""; };

export function DigScreen() {
  const d = s.stand.value;
  if (!d) return html`<main><p class="quiet">${s.working.value}</p></main>`;
  if (!s.person.value) return html`<main><h1>${d.dig}</h1><${Name} /></main>`;
  return html`<${Card} d=${d} live=${true} />`;
}

/** The number kept from before, while the engine starts. */
export function ShownScreen() {
  return html`<${Card} d=${s.shown.value!.stand} live=${false} />`;
}

function Card({ d, live }: { d: Stand; live: boolean }) {
  const point = d.points[Math.min(chosen.value, d.points.length - 1)];
  return html`<main class="cab">
    <header><h1>${d.dig} <span class="kind">${d.kind}</span></h1>
      <p class="quiet">${d.tag ? s.t("dig.from", { tag: d.tag, rests: d.rests }) : ""}</p>
      ${live && d.tags.length > 1 && html`<p class="tags">${d.tags.map((tag) => html`<a href=${`#/dig/${encodeURIComponent(d.dig)}/${encodeURIComponent(tag)}`} aria-current=${tag === d.tag ? "true" : undefined}>${tag}</a>`)}</p>`}
    </header>
    <${Stops} d=${d} live=${live} />
    ${d.section && html`<${Drawing} scene=${d.section} name=${s.t("dig.section", { dig: d.dig })} />`}
    <${Worked} d=${d} point=${point} />
    ${live && html`<${Keys} d=${d} />`}
    ${live && html`<${Pattern} d=${d} />`}
    ${d.cautions.length > 0 && html`<details><summary>${s.t("dig.cautions")} (${d.cautions.length})</summary>${d.cautions.map((w) => html`<p class="caution">${w.text}</p>`)}</details>`}
    ${d.plan && live && html`<details><summary>${s.t("dig.where", { dig: d.dig })}</summary><${Drawing} plan=${true} scene=${d.plan} name=${s.t("dig.where", { dig: d.dig })} /></details>`}
  </main>`;
}

/** What stops work, each once a day: Done, or Stop and tell the foreman. */
function Stops({ d, live }: { d: Stand; live: boolean }) {
  const done = s.answered.value[d.dig] ?? [];
  const asked = (w: Warning) => !done.includes(w.rule + w.text);
  return html`${d.stops.map((w) => html`<section class=${asked(w) ? "stop" : "stop answered"}>
    <p>${w.text}${!asked(w) && html` <span class="quiet">(${s.t("dig.doneHint")})</span>`}</p>
    ${live && asked(w) && html`<p class="pair">
      <button class="key" onClick=${() => void s.answerDone(d.dig, w.rule + w.text)}>${s.t("dig.done")}</button>
      <button class="key" onClick=${() => void s.say("note", { dig: d.dig, words: s.t("dig.stopped", { dig: d.dig }) + " " + w.text })}>${s.t("dig.stop")}</button></p>`}
  </section>`)}`;
}

/** The number worked to, or the sentence why there is none. */
function Worked({ d, point }: { d: Stand; point: Point | undefined }) {
  const state = s.home.value?.tags.find((t) => t.tag === d.tag)?.state;
  if (d.why || !point || !faceOf(point)) {
    return html`<section class="none"><h2>${s.t("dig.noNumber")}</h2><p>${d.why}</p>
      ${d.tag && html`<p class="pair">${state !== "ended" && state !== "drawn" && html`<a class="key" href=${`#/close/${encodeURIComponent(d.tag)}`}>${s.t("dig.closeFirst", { tag: d.tag })}</a>`}
      <a class="key" href=${state === "ended" ? "#/setup" : `#/setup/${encodeURIComponent(d.tag)}`}>${s.t("dig.setup")}</a></p>`}</section>`;
  }
  return html`<section class="worked">
    <p class="over">${d.rod ? s.t("dig.rod", { rod: d.rod }) : ""} · ${point.label}${point.taped ? " · " + s.t("dig.taped", { from: point.taped.from }) : ""}</p>
    ${num(point, true)}
    <p class="under">${s.t("dig.bottom", { bottom: point.bottom })} · ${d.tolerance}</p>
    ${point.judgement && html`<p class=${`judged ${point.judged}`}>${point.judgement}</p>`}
    ${point.cut && html`<p class="quiet">${point.cut}</p>`}
    ${point.within && html`<details><summary>${s.t("dig.chances")}</summary><p>${s.t("dig.within", { chance: point.within })}</p></details>`}
  </section>`;
}

function Keys({ d }: { d: Stand }) {
  if (open.value === "shot") return html`<${ShotKeys} d=${d} point=${d.points[Math.min(chosen.value, d.points.length - 1)]} />`;
  if (open.value === "trouble") return html`<${TroubleKeys} d=${d} />`;
  return html`<div class="pair wide">
    ${!d.why && html`<button class="key main" onClick=${() => { open.value = "shot"; }}>${s.t("shot.title")}</button>`}
    <button class="key" onClick=${() => { open.value = "trouble"; }}>${s.t("trouble.title")}</button>
  </div>`;
}

/** The points of the pattern with their shots; a tap chooses one. */
function Pattern({ d }: { d: Stand }) {
  if (d.points.length === 0) return null;
  return html`<section><h2>${s.t("dig.points")}</h2><ul class="plain points">${d.points.map((p, i) => html`<li>
    <button aria-pressed=${i === chosen.value} onClick=${() => { chosen.value = i; }}>
      <span class="what"><strong>${p.label}</strong> <span class="quiet">${p.shot ? `${p.shot.text}: ${p.shot.told}` : ""}</span></span>
      <span class="figure">${num(p)}</span>
    </button></li>`)}</ul></section>`;
}
