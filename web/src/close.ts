// A close: the receiver on a beam mark, or the rod read back on a hard point.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask } from "./bridge";
import { html } from "./html";
import { Name } from "./home";
import { Pad } from "./shot";
import * as s from "./state";
import type { Close, Drafted } from "./types";

const closes = signal<Close[] | undefined>();
const point = signal<Close | undefined>();
const side = signal<"" | "over" | "under">(""); // of a mark
const reading = signal<string | undefined>();
const read = signal<Drafted | undefined>();

function begin(c: Close | undefined): void {
  point.value = c;
  side.value = "";
  reading.value = "";
  read.value = undefined;
  s.entering.value = c ? "close" : "";
}

/** Keeps it, or first reads it back where it looks like a slip. */
async function done(sure: boolean, said: string): Promise<void> {
  const words = { ...point.value!.words, reading: said };
  if (!sure) {
    try {
      const d = await s.draft("close", words);
      if (d.slip) { read.value = d; return; }
    } catch (error) { s.fail(error); return; }
  }
  if (await s.say("close", words)) begin(undefined);
}

/** What the watch says of the beam: agreement of shots never clears it. */
function Verdict({ tag }: { tag: string }) {
  const beam = s.watch.value?.beams.find((b) => b.tag === tag && !b.ended);
  if (!beam) return null;
  return html`<section class="boxed"><p><strong>${beam.head}</strong></p>
    ${beam.do.map((text) => html`<p>${text}</p>`)}
    ${beam.digs.length > 0 && html`<ul>${beam.digs.map((d) => html`<li><strong>${d.dig}</strong> ${d.told}</li>`)}</ul>`}
    ${(beam.odds.length > 0 || beam.next.length > 0) && html`<details><summary>${s.t("close.odds")}</summary>
      ${[...beam.odds, ...beam.next].map((text) => html`<p>${text}</p>`)}</details>`}</section>`;
}

function Mark() {
  if (side.value) return html`<p>${s.t(side.value === "over" ? "close.over" : "close.under")}: ${s.t("shot.amount")}</p>
    <${Pad} value=${reading} done=${() => void done(true, (side.value === "under" ? "-" : "") + (reading.value ?? ""))} leave=${() => begin(undefined)} />`;
  return html`<div class="grid"><button class="key main" onClick=${() => void done(true, "0")}>${s.t("close.meets")}</button>
    <button class="key" onClick=${() => { side.value = "over"; }}>${s.t("close.over")}</button>
    <button class="key" onClick=${() => { side.value = "under"; }}>${s.t("close.under")}</button>
    <button class="key" onClick=${() => begin(undefined)}>${s.t("key.cancel")}</button></div>`;
}

function Reading({ c }: { c: Close }) {
  if (read.value) return html`<p class="stop">${read.value.slip}</p><p class="readback">${s.t("close.said", { reading: reading.value ?? "", point: c.point })}</p>
    <div class="pair"><button class="key" onClick=${() => { read.value = undefined; reading.value = ""; }}>${s.t("key.wrong")}</button>
    <button class="key" onClick=${() => void done(true, reading.value ?? "")}>${s.t("key.right")}</button></div>`;
  return html`<${Pad} value=${reading} done=${() => void done(false, reading.value ?? "")} leave=${() => begin(undefined)} />`;
}

export function CloseScreen({ tag }: { tag: string }) {
  useEffect(() => {
    begin(undefined);
    void ask<Close[]>("closes", { tag }).then((list) => { closes.value = list; }, s.fail);
    return () => { begin(undefined); };
  }, [tag, s.language.value]);
  const list = closes.value ?? [];
  const c = point.value;
  return html`<main><h1>${s.t("close.title", { tag })}</h1>
    ${!s.person.value && html`<${Name} />`}
    <${Verdict} tag=${tag} />
    <p>${s.t("close.why")}</p>
    ${closes.value && list.length === 0 && html`<p class="caution">${s.t("close.none", { tag })}</p>`}
    <div class="grid">${list.map((one) => html`<button class="key" aria-pressed=${c?.point === one.point} onClick=${() => begin(one)}>
      <strong>${one.point}</strong><br />${one.mark ? s.t("close.mark") : s.t("close.expected", { reading: one.expected })}</button>`)}</div>
    ${c && html`<section class="keys"><p class="over">${s.t("close.reading", { point: c.point })}</p>
      ${c.mark ? html`<${Mark} />` : html`<${Reading} c=${c} />`}</section>`}
  </main>`;
}
