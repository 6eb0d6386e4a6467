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
const opened = (what: "shot" | "trouble") => { open.value = what; s.entering.value = what; };
/** Closes what lies over the page. */
export const closeKeys = () => { open.value = ""; s.entering.value = ""; };

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
    ${live && html`<${News} d=${d} />`}
    <${Stops} d=${d} live=${live} />
    ${d.section && html`<${Drawing} scene=${d.section} name=${s.t("dig.section", { dig: d.dig })} />`}
    <${Worked} d=${d} point=${point} />
    ${live && html`<${Keys} d=${d} />`}
    ${live && html`<${Pattern} d=${d} />`}
    ${d.cautions.length > 0 && html`<details><summary>${s.t("dig.cautions")} (${d.cautions.length})</summary>${d.cautions.map((w) => html`<p class="caution">${w.text}</p>`)}</details>`}
    ${d.plan && live && html`<details><summary>${s.t("dig.where", { dig: d.dig })}</summary><${Drawing} plan=${true} scene=${d.plan} name=${s.t("dig.where", { dig: d.dig })} /></details>`}
  </main>`;
}

/** What the foreman's newer revision changed at this dig. */
function News({ d }: { d: Stand }) {
  const list = s.changes.value.filter((c) => c.dig === d.dig);
  return list.length > 0 && html`<section class="boxed"><p><strong>${s.t("dig.revision", { revision: d.basis.revision })}</strong></p>
    ${list.map((c) => html`<p>${c.text}</p>`)}<button class="key" onClick=${() => void s.readChanges(d.dig)}>${s.t("dig.read")}</button></section>`;
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
    if (d.tie && state === "live") return html`<section class="none"><h2>${s.t("dig.noNumber")}</h2><p>${d.why}</p>
      <button class="key main" onClick=${() => void s.say("tie", d.tie!.words)}>${s.t("dig.tied")}</button></section>`;
    return html`<section class="none"><h2>${s.t("dig.noNumber")}</h2><p>${d.why}</p>
      ${d.tag && html`<p class="pair">${state !== "ended" && state !== "drawn" && html`<a class="key" href=${`#/close/${encodeURIComponent(d.tag)}`}>${s.t("dig.closeFirst", { tag: d.tag })}</a>`}
      <a class="key" href=${state === "ended" ? "#/setup" : `#/setup/${encodeURIComponent(d.tag)}`}>${s.t("dig.setup")}</a></p>`}</section>`;
  }
  return html`<section class="worked">
    <p class="over">${d.rod ? s.t("dig.rod", { rod: d.rod }) : ""} · ${point.label}${point.taped ? " · " + s.t("dig.taped", { from: point.taped.from }) : ""}</p>
    ${num(point, true)}
    <p class="quiet">${point.what}</p>
    <p class="under">${s.t("dig.bottom", { bottom: point.bottom })} · ${d.tolerance}</p>
    ${point.judgement && html`<p class=${`judged ${point.judged}`}>${point.judgement}</p>`}
    ${point.cut && html`<p class="quiet">${point.cut}</p>`}
    <${Due} d=${d} />
    ${point.within && html`<details><summary>${s.t("dig.chances")}</summary><p>${s.t("dig.within", { chance: point.within })}</p></details>`}
  </section>`;
}

/** When the beam is to be checked at the latest, and the close that is due. */
function Due({ d }: { d: Stand }) {
  const by = d.basis.check_by;
  const beam = s.watch.value?.beams.find((b) => b.tag === d.tag && !b.ended);
  const late = by.millis > 0 && Date.now() > by.millis;
  return html`${by.millis > 0 && html`<p class=${late ? "caution" : "quiet"}>${s.t(late ? "dig.checkLate" : "dig.checkBy", { tag: d.tag, time: by.time })}</p>`}
    ${beam && beam.next.length > 0 && html`<p class="quiet">${beam.next[0]}</p>`}`;
}

/** Asked at the start and after breaks: a number belongs to the tag on the laser. */
function TagAsked({ d }: { d: Stand }) {
  return html`<section class="boxed"><p>${s.t("tag.ask")}</p><div class="grid">
    ${d.tags.map((tag) => html`<button class=${tag === d.tag ? "key main" : "key"} onClick=${() => {
      s.held.value = tag;
      if (tag !== d.tag) location.hash = `/dig/${encodeURIComponent(d.dig)}/${encodeURIComponent(tag)}`;
    }}>${tag}</button>`)}
    <a class="key" href="#/setup">${s.t("tag.other")}</a></div></section>`;
}

function Keys({ d }: { d: Stand }) {
  const asks = !d.why && d.tag !== "" && s.held.value !== d.tag;
  if (open.value === "shot") return html`<${ShotKeys} d=${d} point=${d.points[Math.min(chosen.value, d.points.length - 1)]} />`;
  if (open.value === "trouble") return html`<${TroubleKeys} d=${d} />`;
  return html`${asks && html`<${TagAsked} d=${d} />`}<div class="pair wide">
    ${!d.why && !asks && html`<button class="key main" onClick=${() => opened("shot")}>${s.t("shot.title")}</button>`}
    <button class="key" onClick=${() => opened("trouble")}>${s.t("trouble.title")}</button>
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
