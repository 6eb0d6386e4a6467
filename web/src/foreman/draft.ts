// The foreman's draft of a job: every edit is kept on this machine and can be
// undone; saving makes the next revision, and a lost race overwrites nothing.
import { computed, signal } from "@preact/signals";
import { Engine, Fault } from "../bridge";
import * as net from "../net";
import * as s from "../state";
import * as kept from "../storage";
import type { Bundle, Home } from "../types";
import type { Change, Difference, Edited, JobForm, Section, Value } from "./types";

const engine = new Engine("foreman");
export const ask: Engine["ask"] = (call, args, progress) => engine.ask(call, args, progress);

/** A draft as it is kept. */
export interface Draft { job: string; base: number; bundle: Bundle; past: Bundle[]; future: Bundle[] }
/** A race that was lost: what the server has instead. */
export interface Race { theirs: net.Theirs; bundle: Bundle; differences: Difference[] }

export const draft = signal<Draft | undefined>();
export const form = signal<JobForm | undefined>();
export const schema = signal<Section[]>([]);
export const planned = signal<Home | undefined>(); // the draft, planned
export const planFault = signal("");
export const race = signal<Race | undefined>();
export const planCount = signal(0); // grows with every plan of the draft
export const saved = signal("");

/** How many steps can be undone. */
const mostSteps = 100;

export const changed = computed(() => !!draft.value && (draft.value.past.length > 0 || draft.value.base !== s.job.value?.revision));

/** Opens the draft of the job that the page shows, or makes one. */
export async function openDraft(): Promise<void> {
  const k = s.job.value;
  if (!k) return;
  await ask("tongue", { language: s.language.value });
  if (!schema.value.length) schema.value = await ask<Section[]>("job_schema");
  const old = draft.value?.job === k.id ? draft.value : await kept.setting<Draft>("draft " + k.id);
  const fresh = { job: k.id, base: k.revision, bundle: k.bundle, past: [], future: [] };
  await take(old && (old.past.length > 0 || old.base === k.revision) ? old : fresh);
}

/** Shows a draft: its form and its plan. */
async function take(d: Draft): Promise<void> {
  form.value = await ask<JobForm>("job_read", { bundle: d.bundle });
  await hold(d);
}

async function hold(d: Draft): Promise<void> {
  draft.value = d;
  await kept.setSetting("draft " + d.job, d);
  await plan();
}

let opened = "";

/** Opens a bundle with the job's records in the foreman's engine. */
async function open(what: string, bundle: Bundle, revision: number): Promise<Home | undefined> {
  const k = s.job.value!;
  const records = (await kept.recordsOf(k.id)).filter((r) => r.state !== "refused").map((r) => r.record);
  opened = "";
  const home = await ask<Home>("open", { id: k.id, bundle, revision, device: "foreman", language: s.language.value, today: s.today(), foremen: [], comma: s.comma(), records });
  opened = what;
  return home;
}

let wanted = 0;

/** Plans the draft; what keeps it from being planned is told. */
export async function plan(): Promise<void> {
  const d = draft.value!;
  const mine = ++wanted;
  s.working.value = s.t("state.planning");
  try {
    const home = await open("draft", d.bundle, d.base);
    if (mine !== wanted) return;
    planned.value = home;
    planFault.value = "";
  } catch (error) {
    if (mine !== wanted) return;
    planFault.value = error instanceof Fault ? s.sentences(error.told) : String(error);
  }
  s.working.value = "";
  planCount.value++;
}

/** Opens the saved job with its log, for checks and proof. */
export const openSaved = async (): Promise<void> => {
  const k = s.job.value!;
  await open("saved", k.bundle, k.revision);
};

/** Has the draft in the engine again after checks were shown. */
export const reopenDraft = async (): Promise<void> => { if (opened !== "draft" && draft.value) await plan(); };

/** Makes edits; the text before is kept to go back to. */
export async function edit(edits: Change[], files: Record<string, string | null> = {}): Promise<boolean> {
  const d = draft.value;
  if (!d) return false;
  s.fault.value = "";
  saved.value = "";
  try {
    const made = await ask<Edited>("job_write", { bundle: d.bundle, edits, files });
    if (made.bundle.files[made.bundle.main] === d.bundle.files[d.bundle.main] && !Object.keys(files).length) return true;
    form.value = made.form;
    if (made.lost) s.notice.value = [s.t("plan.lost", { count: made.lost })];
    await hold({ ...d, bundle: made.bundle, past: [...d.past, d.bundle].slice(-mostSteps), future: [] });
    return true;
  } catch (error) {
    s.fail(error);
    return false;
  }
}

export const set = (table: string, index: number, key: string, value: Value | null) => edit([{ kind: "set", table, index, key, value }]);

export async function undo(): Promise<void> {
  const d = draft.value;
  const last = d?.past.at(-1);
  if (d && last) await take({ ...d, bundle: last, past: d.past.slice(0, -1), future: [d.bundle, ...d.future] });
}

export async function redo(): Promise<void> {
  const d = draft.value;
  const next = d?.future[0];
  if (d && next) await take({ ...d, bundle: next, past: [...d.past, d.bundle], future: d.future.slice(1) });
}

/** Saves the draft as the next revision. */
export async function save(): Promise<void> {
  const d = draft.value!;
  s.fault.value = "";
  try {
    const { revision } = await net.saveJob(d.job, d.base, d.bundle, s.language.value, s.person.value);
    race.value = undefined;
    await s.sync();
    draft.value = { ...d, base: revision, past: [], future: [] };
    await kept.setSetting("draft " + d.job, draft.value);
    saved.value = s.t("plan.saved", { revision });
  } catch (error) {
    if (error instanceof net.Refused && error.status === 409) await lost(error);
    else s.fail(error);
  }
}

/** Tells a race that was lost and gets the other version. */
async function lost(error: net.Refused): Promise<void> {
  const d = draft.value!;
  const body = await net.job(d.job, s.language.value);
  const theirs = error.theirs ?? { revision: body.revision, person: body.person, saved: body.saved };
  const differences = await ask<Difference[]>("job_diff", { mine: d.bundle, theirs: body.bundle });
  race.value = { theirs, bundle: body.bundle, differences };
  location.hash = "/plan/race";
}

/** Goes on with their version; mine stays one step back. */
export async function takeTheirs(): Promise<void> {
  const d = draft.value!, r = race.value!;
  race.value = undefined;
  await take({ ...d, base: r.theirs.revision, bundle: r.bundle, past: [...d.past, d.bundle], future: [] });
}

/** Saves mine after theirs, which stays in the job's history. */
export async function putMine(): Promise<void> {
  const r = race.value!;
  draft.value = { ...draft.value!, base: r.theirs.revision };
  await save();
}

/** Begins a job with its head alone. */
export async function newJob(name: string, units: string): Promise<void> {
  await ask("tongue", { language: s.language.value });
  const made = await ask<Edited>("job_new", { name, units, language: s.language.value, drawing: "" });
  const id = "job-" + s.hex(4);
  await net.newJob(id, made.bundle, s.language.value, s.person.value);
  await s.openJob(id);
  location.hash = "/plan";
}

/** The tables of a list, or the one table, of the form. */
export function tables(name: string): { [key: string]: Value }[] {
  const v = form.value?.values[name];
  if (v === undefined) return [];
  return (Array.isArray(v) ? v : [v]) as { [key: string]: Value }[];
}

/** Ids of a table, for choices. */
export const idsOf = (table: string) => tables(table).map((one) => String(one["id"] ?? one["tag"] ?? "")).filter(Boolean);
