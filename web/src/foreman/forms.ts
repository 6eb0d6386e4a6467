// Forms for everything that the job file can say, from the engine's schema. What
// is typed goes to the engine as it stands: it reads every unit and judges.
import { signal } from "@preact/signals";
import { html } from "../html";
import * as s from "../state";
import { edit, form, idsOf, schema, set, tables } from "./draft";
import type { Key, Kind, Value } from "./types";

const texts = signal<Record<string, Record<string, string>>>({});

/** Labels and help of keys come when a form is first shown. */
async function load(lang: string): Promise<void> {
  if (texts.value[lang]) return;
  texts.value = { ...texts.value, [lang]: {} };
  const answer = await fetch(`/keys.${lang}.txt`);
  const out: Record<string, string> = {};
  for (const line of (await answer.text()).split("\n")) {
    const at = line.indexOf(" = ");
    if (at > 0 && !line.startsWith("#")) out[line.slice(0, at)] = line.slice(at + 3);
  }
  texts.value = { ...texts.value, [lang]: out };
}

/** The label and the help of a key: told for its path, else for its name. */
export function told(path: string): [label: string, help: string] {
  void load(s.language.value);
  const all = texts.value[s.language.value] ?? {};
  const name = path.slice(path.lastIndexOf(".") + 1);
  const [label, help] = (all[path] ?? all["*." + name] ?? name.replaceAll("_", " ")).split(" | ");
  return [label!, help ?? ""];
}

/** The word of a choice in the page's language, or as the job file has it. */
export function word(choice: string): string {
  void load(s.language.value);
  return texts.value[s.language.value]?.["=" + choice] ?? choice;
}

type Put = (value: Value | null) => void;
type Table = { [key: string]: Value };

const pairs: Record<string, [string, string]> = {
  point: ["east", "north"], size: ["across", "along"], pair: ["across", "along"], span: ["least", "most"], grades: ["least", "most"],
  angles: ["least", "most"], pin: ["along", "across"], pixels: ["right", "down"],
};
const lists = ["names", "refs", "stations", "batters", "clocks"];
const asText = (v: Value | undefined): string => (typeof v === "string" ? v : Array.isArray(v) ? v.map(asText).join(", ") : "");

/** Which of a key's kinds a value is of. */
function kindOf(key: Key, v: Value | undefined): Kind {
  const of = (test: (k: Kind) => boolean) => key.kinds.find(test);
  const isTable = (k: Kind) => k.kind === "table" || k.kind === "tables";
  const isList = (k: Kind) => !!pairs[k.kind] || k.kind === "points" || lists.includes(k.kind);
  if (v !== undefined && typeof v !== "string") return (Array.isArray(v) ? of((k) => k.kind === "tables") ?? of(isList) : of(isTable)) ?? key.kinds[0]!;
  return of((k) => !isTable(k) && (v === undefined || !isList(k))) ?? key.kinds[0]!;
}

interface FieldProps { k: Key; value: Value | undefined; put: Put; at: string; bad?: boolean }

/** One key: its label, its value, its help. */
export function Field({ k, value, put, at, bad = false }: FieldProps) {
  const [label, help] = told(k.path);
  const chosen = signalOf(at, "");
  const kind = key(k, chosen.value) ?? kindOf(k, value);
  const head = html`<span class="label">${label}${k.must ? html` <abbr title=${s.t("form.must")}>*</abbr>` : ""}</span>`;
  const foot = help && html`<span class="help">${help}</span>`;
  const ways = k.kinds.length > 1 && html`<label class="ways"><span class="quiet">${s.t("form.how", { key: label })}</span><select onChange=${(e: Event) => { chosen.value = (e.target as HTMLSelectElement).value; }}>
    ${k.kinds.map((one) => html`<option value=${one.kind} selected=${one.kind === kind.kind}>${s.t(`form.${group(one.kind)}` as "form.table")}</option>`)}</select></label>`;
  if (kind.kind === "table") return html`<fieldset class="sub"><legend>${label}</legend>${foot}${ways}<${Keys} keys=${k.keys ?? []} table=${(typeof value === "object" && !Array.isArray(value) ? value : {}) as Table} at=${at} put=${put} /></fieldset>`;
  if (kind.kind === "tables") return html`<fieldset class="sub"><legend>${label}</legend>${foot}<${Many} k=${k} list=${(Array.isArray(value) ? value : []) as Table[]} put=${put} at=${at} /></fieldset>`;
  if (kind.kind === "headers") return html`<fieldset class="sub"><legend>${label}</legend>${foot}<${Headers} names=${kind.choices ?? []} table=${(value ?? {}) as Table} put=${put} at=${at} /></fieldset>`;
  if (pairs[kind.kind]) return html`<fieldset class=${bad ? "sub bad" : "sub"}><legend>${head}</legend>${foot}${ways}<${Pair} names=${pairs[kind.kind]!} value=${value} put=${put} at=${at} /></fieldset>`;
  return html`<div class=${bad ? "field bad" : "field"}>${ways}<label>${head}${control(kind, value, put, at, k.must ?? false)}${foot}</label></div>`;
}

const key = (k: Key, kind: string) => k.kinds.find((one) => one.kind === kind);
const group = (kind: string) => (kind === "table" || kind === "tables" ? "table" : pairs[kind] ? "pair" : lists.includes(kind) || kind === "points" ? "list" : kind === "choice" ? "choice" : "one");

const kept = new Map<string, ReturnType<typeof signal<string>>>();
function signalOf(at: string, first: string) {
  let one = kept.get(at);
  if (!one) kept.set(at, (one = signal<string>(first)));
  return one as { value: string };
}

const typed = (put: Put) => (e: Event) => { const v = (e.target as HTMLInputElement).value.trim(); put(v === "" ? null : v); };

function control(kind: Kind, value: Value | undefined, put: Put, at: string, must: boolean) {
  const text = asText(value);
  const options = (list: [string, string][]) => html`<select name=${at} onChange=${typed(put)}>${!(must && text) && html`<option value="" selected=${!text}>–</option>`}
    ${list.map(([v, name]) => html`<option value=${v} selected=${v.toLowerCase() === text.toLowerCase()}>${name}</option>`)}${text && !list.some(([v]) => v.toLowerCase() === text.toLowerCase()) && html`<option value=${text} selected>${text}</option>`}</select>`;
  switch (kind.kind) {
    case "choice": return options(kind.choices!.map((c) => [c, word(c)]));
    case "flag": case "answer": return options([["true", s.t("form.yes")], ["false", s.t("form.no")]]);
    case "ref": return options(idsOf(kind.of!).map((id) => [id, id]));
    case "file": return options((form.value?.files ?? []).map((f) => [f.name, f.name]));
    case "points": return html`<textarea name=${at} rows="4" onChange=${(e: Event) => put(places((e.target as HTMLTextAreaElement).value))}>${(Array.isArray(value) ? value : []).map(asText).join("\n")}</textarea>`;
  }
  if (lists.includes(kind.kind)) {
    return html`<input name=${at} value=${text} onChange=${(e: Event) => {
      const parts = (e.target as HTMLInputElement).value.split(",").map((one) => one.trim()).filter(Boolean);
      put(parts.length ? parts : null);
    }} />`;
  }
  return html`<input name=${at} value=${text} autocomplete="off" type=${kind.kind === "date" ? "date" : "text"} onChange=${typed(put)} />`;
}

/** Places, one a line: east and north. */
function places(text: string): Value | null {
  const rows = text.split("\n").map((line) => line.split(/[\t;]|,\s*|\s{2,}/).map((one) => one.trim()).filter(Boolean)).filter((row) => row.length);
  return rows.length ? rows : null;
}

function Pair({ names, value, put, at }: { names: [string, string]; value: Value | undefined; put: Put; at: string }) {
  const now = Array.isArray(value) ? value.map(asText) : value === undefined ? ["", ""] : [asText(value), ""];
  const part = (i: 0 | 1) => (e: Event) => {
    const next = [...now];
    next[i] = (e.target as HTMLInputElement).value.trim();
    const kept = next.filter(Boolean);
    if (kept.length === 2) put(next);
    else if (!kept.length) put(null);
    else s.notice.value = [];
    now[i] = next[i]!;
  };
  return html`<div class="pair">${[0, 1].map((i) => html`<label><span class="quiet">${s.t(`form.${names[i]}` as "form.east")}</span><input name=${`${at}.${i}`} value=${now[i] ?? ""} autocomplete="off" onChange=${part(i as 0 | 1)} /></label>`)}</div>`;
}

function Headers({ names, table, put, at }: { names: string[]; table: Table; put: Put; at: string }) {
  const change = (name: string) => (e: Event) => put(without({ ...table, [name]: (e.target as HTMLInputElement).value.trim() }));
  return html`<div class="grid">${names.map((name) => html`<label><span class="quiet">${name}</span><input name=${`${at}.${name}`} value=${asText(table[name])} onChange=${change(name)} /></label>`)}</div>`;
}

/** A table without its empty keys, null where none is left. */
function without(table: Table): Value | null {
  const left = Object.entries(table).filter(([, v]) => v !== "" && v !== null && v !== undefined);
  return left.length ? Object.fromEntries(left) : null;
}

/** The keys of a table within a key: all of it is put back together. */
function Keys({ keys, table, put, at, kind = "" }: { keys: Key[]; table: Table; put: Put; at: string; kind?: string }) {
  return html`${keys.filter((k) => !k.only || !kind || k.only.includes(kind) || table[k.name] !== undefined).map((k) => html`<${Field} key=${k.path} k=${k} value=${table[k.name]} at=${`${at}.${k.name}`}
    put=${(v: Value | null) => put(without({ ...table, [k.name]: v as Value }))} />`)}`;
}

function Many({ k, list, put, at }: { k: Key; list: Table[]; put: Put; at: string }) {
  const more = signalOf(at + "+", "");
  const rows: Table[] = more.value ? [...list, {}] : list;
  return html`${rows.map((one, i) => html`<div class="item"><${Keys} keys=${k.keys ?? []} table=${one} at=${`${at}.${i}`} put=${(v: Value | null) => {
    const next = [...list];
    if (v === null) next.splice(i, 1); else next[i] = v as Table;
    more.value = "";
    put(next.length ? next : null);
  }} /><button class="small" onClick=${() => { more.value = ""; const next = list.filter((_, n) => n !== i); put(next.length ? next : null); }}>${s.t("form.drop")}</button></div>`)}
    <button class="small" onClick=${() => { more.value = "1"; }}>${s.t("form.addOne")}</button>`;
}

const opened = signal<Record<string, boolean>>({});
export const openItem = (table: string, index: number) => { opened.value = { ...opened.value, [`${table}.${index}`]: true }; };

/** All there is of one table of the job file. */
export function TableForm({ k }: { k: Key }) {
  const [label, help] = told(k.path);
  const many = k.kinds[0]!.kind === "tables";
  const list = tables(k.name);
  const add = async () => {
    const id = k.keys?.some((one) => one.kinds[0]!.kind === "id");
    const name = k.keys?.find((one) => one.kinds[0]!.kind === "id")?.name ?? "id";
    if (await edit([{ kind: "add", table: k.name, index: 0, value: id ? { [name]: free(k.name) } : {} }])) openItem(k.name, tables(k.name).length - 1);
  };
  return html`<section class="tableform"><h2>${label}</h2>${help && html`<p class="quiet">${help}</p>`}
    ${many ? html`${list.map((one, i) => html`<${ItemForm} key=${`${k.name}.${i}`} k=${k} index=${i} table=${one} />`)}<button class="key" onClick=${() => void add()}>${s.t("form.add", { thing: label })}</button>`
      : html`<${ItemForm} k=${k} index=${0} table=${list[0] ?? {}} single=${true} />`}</section>`;
}

const first: Record<string, string> = { benchmark: "BM", laser: "L", rod: "rod ", receiver: "R", machine: "M", datum: "D", control: "C", hub: "H", setup: "A", utility: "U", heap: "SP", stand: "P" };
function free(table: string): string {
  const used = idsOf(table);
  for (let i = 1; ; i++) if (!used.includes(`${first[table] ?? table.slice(0, 1).toUpperCase()}${i}`)) return `${first[table] ?? table.slice(0, 1).toUpperCase()}${i}`;
}

/** One thing of a table with all its keys. */
export function ItemForm({ k, index, table, single = false }: { k: Key; index: number; table: Table; single?: boolean }) {
  const at = `${k.name}.${index}`;
  const name = asText(table["id"] ?? table["tag"] ?? table["file"] ?? table["rule"] ?? table["who"]) || `${index + 1}`;
  const faults = (form.value?.faults ?? []).filter((f) => f.table === k.name && f.index === index);
  const kind = k.name === "excavation" ? asText(table["kind"]) : "";
  const keys = (k.keys ?? []).filter((one) => !one.only || one.only.includes(kind) || (k.name === "schedule") || table[one.name] !== undefined);
  const told = keys.filter((one) => one.must || table[one.name] !== undefined);
  const rest = keys.filter((one) => !told.includes(one));
  const field = (one: Key) => html`<${Field} key=${one.path} k=${one} value=${table[one.name]} at=${`${at}.${one.name}`} bad=${faults.some((f) => f.at === one.name)} put=${(v: Value | null) => void set(k.name, index, one.name, v)} />`;
  const body = html`${faults.map((f) => html`<p class="fault">${s.sentences({ ...f, place: "" })}</p>`)}
    ${told.map(field)}
    ${rest.length > 0 && html`<details class="rest" open=${single}><summary>${s.t("form.more", { count: rest.length })}</summary>${rest.map(field)}</details>`}
    ${(!single || Object.keys(table).length > 0) && k.name !== "job" && html`<button class="small" onClick=${() => void edit([{ kind: "drop", table: k.name, index }])}>${s.t("form.dropThing", { thing: name })}</button>`}`;
  if (single) return html`<div class="thing">${body}</div>`;
  return html`<details class="thing" open=${opened.value[at] || faults.length > 0} onToggle=${(e: Event) => { opened.value = { ...opened.value, [at]: (e.target as HTMLDetailsElement).open }; }}>
    <summary>${name}${kind && html` <span class="quiet">${word(kind)}</span>`}${faults.length ? html` <span class="stopmark">!</span>` : ""}</summary>${(opened.value[at] || faults.length > 0) && body}</details>`;
}

/** The forms of one section. */
export function SectionForm({ name }: { name: string }) {
  const section = schema.value.find((one) => one.name === name);
  return html`${section?.tables.map((k) => html`<${TableForm} key=${k.name} k=${k} />`)}`;
}
