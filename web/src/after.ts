// The laser stands: its tag, two beam marks, and the two rods that prove a dial.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask } from "./bridge";
import { html } from "./html";
import { TapMap } from "./place";
import { Pad } from "./shot";
import * as s from "./state";
import type { Proof, Proving, Spot } from "./types";

const proving = signal<Proving | undefined>();
const spot = signal<Spot | undefined>();
const rod = signal<Proof | undefined>();
const reading = signal<string | undefined>();

const fetchOf = (tag: string) => ask<Proving>("proving", { tag }).then((p) => { proving.value = p; }, s.fail);

function Marks({ tag, p }: { tag: string; p: Proving }) {
  const left = p.asked - p.marks.length;
  return html`<section><h2>${s.t("after.marks")}</h2>
    ${p.marks.map((m) => html`<p>✓ ${m}</p>`)}
    ${left > 0 && html`<p>${s.t("after.marksWhy", { count: left })}</p>
      <form onSubmit=${async (e: SubmitEvent) => {
        e.preventDefault();
        const form = e.target as HTMLFormElement;
        const mark = String(new FormData(form).get("mark") ?? "").trim();
        const at: Record<string, string> = spot.value ? { at: `${spot.value.east}; ${spot.value.north}` } : {};
        if (mark && (await s.say("beam_mark", { tag, mark, ...at }))) { spot.value = undefined; form.reset(); void fetchOf(tag); }
      }}><label>${s.t("after.mark")}<input name="mark" required maxlength="60" /></label>
        <${TapMap} chosen=${spot} />
        ${!spot.value && html`<p class="caution">${s.t("after.markPlace")}</p>`}
        <button class="key">${s.t("after.markKeep")}</button></form>`}</section>`;
}

function Dial({ tag, p }: { tag: string; p: Proving }) {
  if (!p.dial) return null;
  return html`<section><h2>${s.t("after.dial")}</h2><p>${p.dial}</p>
    <div class="grid">${p.rods.map((r) => html`<button class="key" onClick=${() => { rod.value = r; reading.value = ""; s.entering.value = "proof"; }}>
      <strong>${r.point}</strong> ${s.t("close.expected", { reading: r.expected })}${r.told && html`<br />${r.told}`}</button>`)}</div>
    ${rod.value && html`<section class="keys"><p class="over">${s.t("close.reading", { point: rod.value.point })}</p>
      <${Pad} value=${reading} done=${async () => {
        if (await s.say("dial_proof", { tag, point: rod.value!.point, reading: reading.value ?? "" })) { rod.value = undefined; s.entering.value = ""; void fetchOf(tag); }
      }} leave=${() => { rod.value = undefined; s.entering.value = ""; }} /></section>`}</section>`;
}

export function AfterScreen({ tag }: { tag: string }) {
  useEffect(() => { spot.value = undefined; rod.value = undefined; void fetchOf(tag); }, [tag, s.language.value]);
  const line = s.home.value?.tags.find((t) => t.tag === tag);
  const p = proving.value;
  return html`<main><header><h1><span class="letter">${tag}</span></h1><p>${line?.text} <span class="quiet">${line?.rests}</span></p></header>
    <p>${s.t("after.tag", { tag })}</p>
    ${p && html`<${Dial} tag=${tag} p=${p} /><${Marks} tag=${tag} p=${p} />`}
    <a class="key main" href="#/">${s.t("after.dig")}</a></main>`;
}
