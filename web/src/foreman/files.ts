// The files of a job: taken in, looked at, given out.
import { signal } from "@preact/signals";
import { html } from "../html";
import { paperPath } from "../net";
import * as s from "../state";
import * as d from "./draft";
import { word } from "./forms";

const shown = signal("");

/** Takes files in. A job file replaces the draft's; a table stands beside it. */
async function take(list: FileList | null): Promise<void> {
  const files: Record<string, string> = {};
  for (const f of list ?? []) files[f.name] = await f.text();
  const draft = d.draft.value!;
  const main = Object.keys(files).find((name) => name.endsWith(".toml"));
  const put: Record<string, string | null> = {};
  for (const [name, text] of Object.entries(files)) put[name === main ? draft.bundle.main : name] = text;
  if (await d.edit([], put)) s.notice.value = [s.t("files.taken", { files: Object.keys(files).join(", ") })];
}

/** Says what a table beside the job is for. */
async function use(name: string, as: string): Promise<void> {
  switch (as) {
    case "points": await d.set("ground", 0, "points", name); break;
    case "breaklines": await d.set("ground", 0, "breaklines", name); break;
    case "surface": await d.set("ground", 0, "surface", name); break;
    case "schedule": await d.edit([{ kind: "add", table: "schedule", index: 0, value: { file: name } }]);
  }
}

export function FilesScreen() {
  const draft = d.draft.value!;
  const main = draft.bundle.main;
  return html`<p class="quiet">${s.t("files.hint")}</p>
    <label class="key">${s.t("files.pick")}<input type="file" name="files" multiple accept=".toml,.csv,.txt,.asc,text/*" onChange=${(e: Event) => void take((e.target as HTMLInputElement).files)} /></label>
    <ul class="plain">${[{ name: main, kind: "job" }, ...d.form.value!.files].map((f) => html`<li class="file"><p><strong>${f.name}</strong> <span class="quiet">${f.kind ? word(f.kind) : s.t("files.unused")}</span></p>
      ${f.name !== main && !f.kind && html`<label>${s.t("files.use")}<select name=${`use-${f.name}`} onChange=${(e: Event) => void use(f.name, (e.target as HTMLSelectElement).value)}><option value="">–</option>${["points", "breaklines", "schedule", "surface"].map((k) => html`<option value=${k}>${word(k)}</option>`)}</select></label>`}
      <button class="small" onClick=${() => { shown.value = shown.value === f.name ? "" : f.name; }}>${s.t("files.look")}</button>
      <button class="small" onClick=${() => give(f.name)}>${s.t("files.give")}</button>
      ${f.name !== main && html`<button class="small" onClick=${() => void d.edit([], { [f.name]: null })}>${s.t("form.drop")}</button>`}
      ${shown.value === f.name && html`<label>${f.name}<textarea class="source" name=${`text-${f.name}`} rows="14" spellcheck=${false} onChange=${(e: Event) => void d.edit([], { [f.name]: (e.target as HTMLTextAreaElement).value })}>${draft.bundle.files[f.name]}</textarea></label>`}</li>`)}</ul>
    <a class="key" href=${paperPath(draft.job, "sheets", s.language.value)} download>${s.t("files.sheets")}</a>`;
}

function give(name: string): void {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(new Blob([d.draft.value!.bundle.files[name] ?? ""], { type: "text/plain" }));
  a.download = name;
  a.click();
  URL.revokeObjectURL(a.href);
}
