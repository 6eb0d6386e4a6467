// Plan: the foreman's map, forms, tables and sheets over a draft of the job.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { html } from "../html";
import { Name } from "../home";
import { num } from "../number";
import { Drawing } from "../scene";
import * as s from "../state";
import type { Stand } from "../types";
import * as d from "./draft";
import { FilesScreen } from "./files";
import { ItemForm, openItem, SectionForm, told, word } from "./forms";
import { Sheet } from "./paper";
import { RaceScreen } from "./race";
import { ScheduleScreen } from "./schedule";
import { map, SiteMapView, taps } from "./sitemap";
import { UnderScreen } from "./under";
import type { Drawn, Picked } from "./types";

const picked = signal<Picked | undefined>();
const shown = signal<Stand | undefined>();
const kind = signal(""); // of the dig being drawn, "" none
const made = signal("");

const isRun = (k: string) => ["strip", "trench", "field"].includes(k);

/** What stands under every screen of the plan. */
function Bar() {
  const draft = d.draft.value;
  return html`<div class="bar">
    <button class="small" disabled=${!draft?.past.length} onClick=${() => void d.undo()}>${s.t("key.undo")}</button>
    <button class="small" disabled=${!draft?.future.length} onClick=${() => void d.redo()}>${s.t("plan.redo")}</button>
    <button class="small main" disabled=${!d.changed.value} onClick=${() => void d.save()}>${s.t("plan.save")}</button>
    <span class="quiet" role="status">${d.saved.value || (d.changed.value ? s.t("plan.draft", { revision: draft?.base ?? 0 }) : s.t("plan.asSaved", { revision: draft?.base ?? 0 }))}</span>
  </div>`;
}

const tabs = [["", "plan.map"], ["schedule", "plan.schedule"], ["drawing", "plan.drawing"], ["form", "plan.forms"], ["sheets", "plan.sheets"], ["files", "plan.files"]] as const;

function Tabs({ here }: { here: string }) {
  return html`<nav class="tabs" aria-label=${s.t("plan.title")}>${tabs.map(([to, text]) => html`<a href=${`#/plan${to ? "/" + to : ""}`} aria-current=${here === to ? "page" : undefined}>${s.t(text)}</a>`)}</nav>`;
}

export function PlanScreen({ what, a, b }: { what: string; a: string; b: string }) {
  useEffect(() => { void (d.draft.value && d.draft.value.job === s.job.value?.id ? d.reopenDraft() : d.openDraft()).catch(s.fail); }, [s.job.value?.id]);
  useEffect(() => { if (d.draft.value) void d.ask("tongue", { language: s.language.value }).then(() => d.plan()).catch(s.fail); }, [s.language.value]);
  const draft = d.draft.value;
  if (!draft || !d.form.value) return html`<main class="foreman"><h1>${s.t("plan.title")}</h1><p class="quiet">${s.working.value || s.t("plan.loading")}</p></main>`;
  const newer = s.job.value && s.job.value.revision !== draft.base;
  return html`<main class="foreman" key=${what}><header><h1>${s.t("plan.title")}</h1><${Bar} /></header>
    <${Tabs} here=${what} />
    ${!s.person.value && html`<${Name} />`}
    ${newer && html`<p class="caution">${s.t("plan.newer", { revision: s.job.value!.revision, base: draft.base })}</p>`}
    ${d.form.value.faults.map((f) => html`<p class="fault">${s.sentences(f)} ${f.table && html`<button class="small" onClick=${() => goTo(f.table, f.index)}>${s.t("plan.mend")}</button>`}</p>`)}
    ${!d.form.value.faults.length && d.planFault.value && html`<p class="fault">${d.planFault.value}</p>`}
    ${screen(what, a, b)}</main>`;
}

function screen(what: string, a: string, b: string) {
  switch (what) {
    case "schedule": return html`<${ScheduleScreen} />`;
    case "drawing": return html`<${UnderScreen} />`;
    case "form": return html`<${FormScreen} section=${a} open=${b} />`;
    case "sheets": return html`<${SheetsScreen} name=${a} dig=${b} />`;
    case "files": return html`<${FilesScreen} />`;
    case "race": return html`<${RaceScreen} />`;
  }
  return html`<${MapScreen} />`;
}

/** Opens the form of a thing of the job file. */
export function goTo(table: string, index: number): void {
  openItem(table, index);
  const section = d.schema.value.find((one) => one.tables.some((k) => k.name === table));
  if (section) location.hash = `/plan/form/${section.name}/${table}`;
}

function FormScreen({ section, open }: { section: string; open: string }) {
  const now = section || "job";
  useEffect(() => { if (open) document.getElementById(`table-${open}`)?.scrollIntoView({ block: "start" }); }, [open, now]);
  return html`<nav class="tabs sections" aria-label=${s.t("plan.forms")}>${d.schema.value.map((one) => html`<a href=${`#/plan/form/${one.name}`} aria-current=${one.name === now ? "page" : undefined}>${told("section." + one.name)[0]}</a>`)}</nav>
    <${SectionForm} name=${now} />`;
}

const papers = [["plan", "plan.levels"], ["amounts", "plan.amounts"], ["why", "plan.why"]] as const;

function SheetsScreen({ name, dig }: { name: string; dig: string }) {
  const now = name || "plan";
  return html`<nav class="tabs sections" aria-label=${s.t("plan.sheets")}>${papers.map(([to, text]) => html`<a href=${`#/plan/sheets/${to}`} aria-current=${now === to ? "page" : undefined}>${s.t(text)}</a>`)}</nav>
    <h2>${s.t((papers.find(([to]) => to === now)?.[1] ?? "plan.trace"))}${dig && ` ${dig}`}</h2><${Sheet} name=${now} dig=${dig} />`;
}

/** What is still missing before a first number, one step after the other. */
function Missing() {
  const has = (table: string) => d.tables(table).length > 0;
  const digs = has("excavation") || has("schedule");
  const steps: [boolean, string, string][] = [
    [has("benchmark"), s.t("plan.needBenchmark"), "#/plan/form/levels/benchmark"], [has("laser"), s.t("plan.needLaser"), "#/plan/form/equipment/laser"],
    [has("rod"), s.t("plan.needRod"), "#/plan/form/equipment/rod"], [digs, s.t("plan.needDig"), "#/plan/schedule"],
  ];
  const open = steps.filter(([done]) => !done);
  if (!open.length) return null;
  return html`<section class="boxed"><h2>${s.t("plan.missing")}</h2><ol class="steps">${open.map(([, text, to]) => html`<li><a href=${to}>${text}</a></li>`)}</ol>
    <${First} /></section>`;
}

/** The quick way to a first number: one benchmark, one laser, one rod, one dig. */
function First() {
  const feet = String((d.tables("job")[0] ?? {})["units"] ?? "ft") === "ft";
  const send = async (e: SubmitEvent) => {
    e.preventDefault();
    const f = new FormData(e.target as HTMLFormElement);
    const w = (name: string) => String(f.get(name) ?? "").trim();
    const add = (table: string, value: { [key: string]: string | string[] | { [key: string]: string } }) => ({ kind: "add" as const, table, index: 0, value });
    const edits = [];
    if (!d.tables("benchmark").length) edits.push(add("benchmark", { id: w("bm"), at: ["0", "0"], elevation: w("bmz"), hard: "true" }));
    if (!d.tables("laser").length) edits.push(add("laser", { id: "L1", accuracy: w("accuracy"), range: w("range") }));
    if (!d.tables("rod").length) edits.push(add("rod", { id: "rod", face: w("face"), longest: feet ? "16" : "5" }));
    if (w("dig")) edits.push(add("excavation", { id: w("dig"), kind: w("kind"), at: [w("east"), w("north")], size: w("size"), bottom: { elevation: w("bottom") }, tolerance: w("tolerance") }));
    await d.edit(edits);
  };
  const field = (name: string, text: string, value: string) => html`<label>${text}<input name=${name} value=${value} required autocomplete="off" /></label>`;
  return html`<details open><summary>${s.t("plan.quick")}</summary><form class="quick" onSubmit=${send}>
    <p class="quiet">${s.t("plan.quickHint")}</p>
    <div class="pair">${field("bm", s.t("plan.quickBM"), "BM1")}${field("bmz", s.t("plan.quickBMZ"), "")}</div>
    <div class="three">${field("accuracy", s.t("plan.quickAccuracy"), '10"')}${field("range", s.t("plan.quickRange"), feet ? "800" : "250")}
      <label>${s.t("plan.quickFace")}<select name="face">${(feet ? ["inches", "tenths"] : ["metric"]).map((one) => html`<option value=${one}>${word(one)}</option>`)}</select></label></div>
    <div class="pair">${field("dig", s.t("plan.quickDig"), "F1")}<label>${s.t("plan.kind")}<select name="kind">${["footing", "pad", "pit"].map((one) => html`<option value=${one}>${word(one)}</option>`)}</select></label></div>
    <div class="pair">${field("east", s.t("set.east"), "")}${field("north", s.t("set.north"), "")}</div>
    <div class="three">${field("size", s.t("plan.quickSize"), "")}${field("bottom", s.t("plan.quickBottom"), "")}${field("tolerance", s.t("plan.quickTolerance"), feet ? "1/2 in" : "10 mm")}</div>
    <button class="key main">${s.t("plan.quickGo")}</button></form></details>`;
}

function MapScreen() {
  const drawing = !!kind.value;
  useEffect(() => { if (!drawing && picked.value?.kind === "dig") void show(picked.value); }, [d.planCount.value]);
  return html`<${Missing} />
    <div class="split"><div>${d.planCount.value > 0 && d.planned.value && html`<${SiteMapView} drawing=${drawing} picked=${(p: Picked) => void show(p)} tapped=${() => { if (taps.value.length === 2 && !isRun(kind.value)) void finish(); }} />`}
      <${DrawBar} /></div>
    <div class="side">${picked.value?.kind === "dig" && shown.value ? html`<${DigPanel} />` : html`<${Lists} />`}</div></div>`;
}

async function show(p: Picked): Promise<void> {
  picked.value = p;
  if (p.kind !== "dig") { shown.value = undefined; return; }
  try { shown.value = await d.ask<Stand>("stand", { dig: p.id, tag: "" }); } catch { shown.value = undefined; picked.value = undefined; }
}

const rounding = signal("");
const bottom = signal("");

/** Draws a dig by tapping: an area by two opposite corners, a run point by point. */
function DrawBar() {
  if (!kind.value) return html`<div class="drawbar"><label>${s.t("plan.draw")}<select name="drawkind" onChange=${(e: Event) => { kind.value = (e.target as HTMLSelectElement).value; taps.value = []; made.value = ""; }}>
    <option value="">–</option>${["footing", "pad", "pit", "strip", "trench"].map((one) => html`<option value=${one}>${word(one)}</option>`)}</select></label>${made.value && html`<p role="status">${made.value}</p>`}</div>`;
  const run = isRun(kind.value);
  const short = d.tables("job")[0]?.["units"] === "m" ? "0.1" : "0.5";
  return html`<div class="drawbar boxed">${made.value && html`<p role="status">${made.value}</p>`}<p><strong>${word(kind.value)}</strong>: ${s.t(run ? "plan.tapLine" : "plan.tapCorners")} ${s.t("plan.tapped", { count: taps.value.length })}</p>
    <div class="three"><label>${s.t("plan.round")}<input name="round" value=${rounding.value || short} onChange=${(e: Event) => { rounding.value = (e.target as HTMLInputElement).value; }} /></label>
      <label>${s.t("plan.quickBottom")}<input name="drawbottom" value=${bottom.value} onInput=${(e: Event) => { bottom.value = (e.target as HTMLInputElement).value; }} /></label>
      ${run && html`<label>${told("excavation.width")[0]}<input name="drawwidth" value=${width.value} onInput=${(e: Event) => { width.value = (e.target as HTMLInputElement).value; }} /></label>`}</div>
    <div class="pair">${run && html`<button class="key main" disabled=${taps.value.length < 2} onClick=${() => void finish()}>${s.t("plan.drawn")}</button>`}
      <button class="key" disabled=${!taps.value.length} onClick=${() => { taps.value = taps.value.slice(0, -1); }}>${s.t("plan.lastTap")}</button>
      <button class="key" onClick=${() => { kind.value = ""; taps.value = []; }}>${s.t("plan.drawStop")}</button></div></div>`;
}

const width = signal("");

async function finish(): Promise<void> {
  const metres = d.tables("job")[0]?.["units"] === "m";
  const values: { [key: string]: string | { [key: string]: string } } = { tolerance: metres ? "10 mm" : "1/2 in" };
  if (bottom.value.trim()) values["bottom"] = { elevation: bottom.value.trim() };
  if (isRun(kind.value)) values["width"] = width.value.trim() || (metres ? "0.6" : "2");
  try {
    const drawn = await d.ask<Drawn>("draw_dig", { view: map.value!.view, id: "", kind: kind.value, taps: taps.value, round: rounding.value || (metres ? "0.1" : "0.5"), values });
    taps.value = [];
    if (await d.edit([drawn.edit])) made.value = s.t("plan.made", { dig: drawn.id, size: drawn.told });
  } catch (error) { s.fail(error); }
}

/** What is on the map, for those who do not see it or have no finger free. */
function Lists() {
  const p = d.planned.value;
  if (!p) return null;
  return html`<h2>${s.t("home.digs")}</h2><ul class="plain">${p.digs.map((one) => html`<li><button class="dig" onClick=${() => void show({ kind: "dig", id: one.id, east: "", north: "" })}>
      <span class="what"><strong>${one.id}</strong> ${one.kind}${one.stops ? html` <span class="stopmark">${s.t("home.open")}: ${one.stops}</span>` : ""}<span class="quiet">${one.words}</span></span>
      <span class="figure">${num(one)}</span></button></li>`)}</ul>
    ${picked.value && picked.value.kind !== "dig" && html`<p>${picked.value.id ? html`<strong>${picked.value.id}</strong> ` : ""}${s.t("plan.here", { east: picked.value.east, north: picked.value.north })}</p>`}
    <h2>${s.t("home.tags")}</h2>${p.tags.map((one) => html`<p><strong class="letter">${one.tag}</strong> ${one.text} <span class="quiet">${one.rests}</span></p>`)}
    ${p.open.length > 0 && html`<h2>${s.t("home.open")}</h2>${p.open.map((w) => html`<p class=${w.severity === "stop" ? "stop" : "caution"}>${w.text}</p>`)}`}`;
}

/** A dig: its section, its levels with their trace, and its keys. */
function DigPanel() {
  const v = shown.value!;
  const index = d.tables("excavation").findIndex((one) => one["id"] === v.dig);
  const k = d.schema.value.flatMap((one) => one.tables).find((one) => one.name === "excavation")!;
  return html`<div class="digpanel"><h2>${v.dig} <span class="kind">${v.kind}</span></h2><p class="quiet">${v.words}</p>
    <button class="small" onClick=${() => { picked.value = undefined; shown.value = undefined; }}>${s.t("plan.allDigs")}</button>
    ${v.section && html`<${Drawing} scene=${v.section} name=${s.t("dig.section", { dig: v.dig })} />`}
    ${v.stops.concat(v.cautions).map((w) => html`<p class=${w.severity === "stop" ? "stop" : "caution"}>${w.text}</p>`)}
    <h3>${s.t("plan.trace")}</h3><${Sheet} name="trace" dig=${v.dig} />
    <details><summary>${s.t("dig.chances")}</summary><${Sheet} name="trust" dig=${v.dig} /></details>
    ${index >= 0 ? html`<h3>${s.t("plan.keys")}</h3><${ItemForm} k=${k} index=${index} table=${d.tables("excavation")[index]!} />` : html`<p><a href="#/plan/schedule">${s.t("plan.inSchedule")}</a></p>`}</div>`;
}
