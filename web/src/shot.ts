// A shot in three taps: On, High or Low, and how much; behind it the full reading
// with a read-back.
import { signal } from "@preact/signals";
import { chosen, closeKeys } from "./dig";
import { html } from "./html";
import * as s from "./state";
import type { Drafted, Point, Stand } from "./types";

const call = signal<"" | "high" | "low">("");
const reading = signal<string | undefined>();
const read = signal<Drafted | undefined>();

function leave(): void {
  call.value = "";
  reading.value = undefined;
  read.value = undefined;
  closeKeys();
}

/** What names the point of a shot. */
function placed(d: Stand, p: Point | undefined): Record<string, string> {
  const words: Record<string, string> = { tag: d.tag, dig: d.dig };
  if (p?.station) {
    words["station"] = p.station;
    if (p.part && p.part !== "1") words["part"] = p.part;
  } else if (p) words["point"] = p.name;
  return words;
}

async function keep(d: Stand, p: Point | undefined, words: Record<string, string>): Promise<void> {
  const kept = await s.say("shot", { ...placed(d, p), ...words }, "…");
  if (!kept) return;
  s.undoable.value = { id: kept.id, text: s.t("shot.said2", { point: p?.label ?? d.dig, text: `${kept.shot?.text ?? ""}. ${kept.shot?.told ?? ""}` }) };
  // The next point of the pattern that has no shot yet.
  const next = s.stand.value?.points.findIndex((q) => !q.shot) ?? -1;
  if (next >= 0) chosen.value = next;
  leave();
}

export function ShotKeys({ d, point }: { d: Stand; point: Point | undefined }) {
  const title = html`<p class="over">${s.t("shot.title")} · ${point?.label}</p>`;
  if (read.value) return html`<section class="keys">${title}
    ${read.value.slip && html`<p class="stop">${read.value.slip}</p>`}
    <p class="readback">${s.t("shot.said", { reading: reading.value ?? "", point: point?.label ?? "", text: read.value.shot?.text ?? "" })}</p>
    <div class="pair"><button class="key main" onClick=${() => void keep(d, point, { reading: reading.value ?? "" })}>${s.t("key.right")}</button>
    <button class="key" onClick=${() => { read.value = undefined; reading.value = ""; }}>${s.t("key.wrong")}</button></div></section>`;
  if (reading.value !== undefined) return html`<section class="keys">${title}<${Pad} value=${reading} done=${async () => {
    try { read.value = await s.draft("shot", { ...placed(d, point), reading: reading.value ?? "" }); s.fault.value = ""; } catch (error) { s.fail(error); }
  }} leave=${leave} /></section>`;
  if (call.value) return html`<section class="keys">${title}<p>${s.t(call.value === "high" ? "shot.high" : "shot.low")}: ${s.t("shot.amount")}</p>
    <div class="grid">${d.steps.map((amount) => html`<button class="key" onClick=${() => void keep(d, point, { call: call.value, amount })}>${amount}</button>`)}</div>
    <button class="key" onClick=${leave}>${s.t("key.cancel")}</button></section>`;
  return html`<section class="keys">${title}
    <div class="three">
      <button class="key main" onClick=${() => void keep(d, point, { call: "on" })}>${s.t("shot.on")}</button>
      <button class="key main" onClick=${() => { call.value = "high"; }}>${s.t("shot.high")}</button>
      <button class="key main" onClick=${() => { call.value = "low"; }}>${s.t("shot.low")}</button>
    </div>
    <div class="pair"><button class="key" onClick=${() => { reading.value = ""; }}>${s.t("shot.reading")}</button>
    <button class="key" onClick=${leave}>${s.t("key.cancel")}</button></div></section>`;
}

const keys = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "'", "0", '"', "/", ".", "-", " "];

/** Big keys for a rod reading; what is typed goes to the engine as it stands. */
export function Pad({ value, done, leave }: { value: { value: string | undefined }; done: () => void; leave: () => void }) {
  const all = keys.map((k) => (k === "." && s.comma() ? "," : k)); // the reader's decimal mark
  return html`<output class="typed" aria-live="polite">${value.value || " "}</output>
    <div class="pad">${all.map((k) => html`<button class="key" aria-label=${k === " " ? "space" : k} onClick=${() => { value.value = (value.value ?? "") + k; }}>${k === " " ? "␣" : k}</button>`)}
      <button class="key" onClick=${() => { value.value = (value.value ?? "").slice(0, -1); }}>${s.t("key.back")}</button></div>
    <div class="pair"><button class="key main" onClick=${done}>OK</button><button class="key" onClick=${leave}>${s.t("key.cancel")}</button></div>`;
}
