// The schedule: rows as they come from a drawing or a spreadsheet. The engine
// reads headers, separators and units and says what it takes each column for.
import { signal } from "@preact/signals";
import { html } from "../html";
import { Fault } from "../bridge";
import * as s from "../state";
import * as d from "./draft";
import { told, word } from "./forms";
import type { Pasted } from "./types";

const text = signal("");
const read = signal<Pasted | undefined>();
const wrong = signal("");
const file = signal("schedule.csv");

async function judge(): Promise<void> {
  read.value = undefined;
  wrong.value = "";
  if (!text.value.trim()) return;
  try { read.value = await d.ask<Pasted>("pasted", { name: file.value, text: text.value }); } catch (error) {
    wrong.value = error instanceof Fault ? s.sentences(error.told) : String(error);
  }
}

async function keep(e: SubmitEvent): Promise<void> {
  e.preventDefault();
  const f = new FormData(e.target as HTMLFormElement);
  const w = (name: string) => String(f.get(name) ?? "").trim();
  const named = d.tables("schedule").some((one) => one["file"] === file.value);
  const value: { [key: string]: string } = { file: file.value };
  for (const key of ["kind", "tolerance", "concrete"]) if (w(key)) value[key] = w(key);
  const edits = named ? [] : [{ kind: "add" as const, table: "schedule", index: 0, value }];
  if (await d.edit(edits, { [file.value]: text.value.endsWith("\n") ? text.value : text.value + "\n" })) {
    s.notice.value = [s.t("sched.kept", { count: read.value?.rows.length ?? 0 })];
    text.value = "";
    read.value = undefined;
  }
}

function open(name: string): void {
  file.value = name;
  text.value = d.draft.value!.bundle.files[name] ?? "";
  void judge();
}

export function ScheduleScreen() {
  const known = d.tables("schedule").map((one) => String(one["file"] ?? "")).filter(Boolean);
  const named = known.includes(file.value);
  const metres = d.tables("job")[0]?.["units"] === "m";
  return html`<h2>${s.t("sched.title")}</h2><p class="quiet">${s.t("sched.hint")}</p>
    ${known.length > 0 && html`<p>${known.map((name) => html`<button class="small" onClick=${() => open(name)}>${s.t("sched.open", { file: name })}</button> `)}</p>`}
    <label>${s.t("sched.paste")}<textarea name="pasted" class="source" rows="8" spellcheck=${false} value=${text.value} placeholder=${"Mark\tE\tN\tW\tL\tB/FTG\nF1\t10\t20\t4\t4\t96.50"}
      onInput=${(e: Event) => { text.value = (e.target as HTMLTextAreaElement).value; void judge(); }}></textarea></label>
    ${wrong.value && html`<p class="fault" role="alert">${wrong.value}</p>`}
    ${read.value && html`<div class="wide" tabindex="0" role="region" aria-label=${s.t("sched.title")}><table class="rows"><thead><tr>${read.value.heads.map((h, i) => html`<th scope="col">${h || "–"}<br /><span class="quiet">${read.value!.means[i] ? meaning(read.value!.means[i]!) : s.t("sched.leftOut")}</span></th>`)}</tr></thead>
      <tbody>${read.value.rows.slice(0, 40).map((row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>`)}</tbody></table></div>
      ${read.value.comma && html`<p class="quiet">${s.t("sched.comma")}</p>`}
      <form onSubmit=${keep}>${!named && html`<div class="three"><label>${told("excavation.kind")[0]}<select name="kind">${["footing", "pad", "pit", "strip", "trench"].map((one) => html`<option value=${one}>${word(one)}</option>`)}</select></label>
        <label>${told("excavation.tolerance")[0]}<input name="tolerance" value=${metres ? "10 mm" : "1/2 in"} /></label><label>${told("excavation.concrete")[0]}<input name="concrete" /></label></div><p class="quiet">${s.t("sched.shared")}</p>`}
        <button class="key main">${s.t("sched.keep", { count: read.value.rows.length })}</button></form>`}`;
}

const meaning = (column: string) => told("schedule.columns." + column)[0];
