// What the page shows and how it changes: opened from what is kept, then brought
// up to date with the server.
import { computed, effect, signal, untracked } from "@preact/signals";
import * as account from "./account";
import { ask, Fault } from "./bridge";
import * as net from "./net";
import * as kept from "./storage";
import type { Bundle, Change, Drafted, Home, SetUp, Stand, Watch } from "./types";
import en from "./text/en.json";
import es from "./text/es.json";

export type Language = "en" | "es";
export const language = signal<Language>("en");
export const person = signal("");
export const dark = signal(false);
export const job = signal<kept.KeptJob | undefined>();
export const home = signal<Home | undefined>();
export const stand = signal<Stand | undefined>();
export const shown = signal<kept.Shown | undefined>(); // from storage, before the engine runs
export const stale = signal(""); // why no number kept is shown
export const watch = signal<Watch | undefined>();
/** What a newer revision changed, until it was read. */
export const changes = signal<Change[]>([]);
/** The tag that the person says is on the laser, "" to be asked. */
export const held = signal("");
/** What is being entered; a new revision waits until it is "". */
export const entering = signal("");
const next = signal<{ revision: number; bundle: Bundle; foremen: string[] } | undefined>();
export const online = signal(false);
export const heard = signal(0); // when the server was last heard, ms
export const waiting = signal(0);
export const asides = signal<kept.KeptRecord[]>([]);
export const none = signal(false); // the server has no job
export const fault = signal("");
export const notice = signal<string[]>([]);
export const working = signal("");
export const ready = signal(false); // to work offline
export const persisted = signal<boolean | undefined>();
export const route = signal(location.hash.slice(1) || "/");
export const undoable = signal<{ id: string; text: string } | undefined>();
/** Sentences of caution that were answered Done today, by dig. */
export const answered = signal<Record<string, string[]>>({});

const texts: Record<Language, Record<string, string>> = { en, es };
/** A text of the page, with {name} filled in. */
export function t(key: keyof typeof en, args: Record<string, string | number> = {}): string {
  return texts[language.value][key]!.replace(/\{(\w+)\}/g, (_, name: string) => String(args[name] ?? ""));
}

/** Whether the reader writes a decimal comma, by language and place. */
export const comma = (): boolean =>
  new Intl.NumberFormat(navigator.languages.find((l) => l.startsWith(language.value)) ?? language.value).format(1.5).includes(",");

export const clock = (ms: number) => new Date(ms).toLocaleTimeString(language.value, { hour: "2-digit", minute: "2-digit" });
export const today = () => {
  const d = new Date();
  return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, "0")}-${String(d.getDate()).padStart(2, "0")}`;
};
export const alone = computed(() => t(online.value ? "state.online" : "state.offline", { time: heard.value ? clock(heard.value) : "–" }));

/** A fault as sentences: its place, what is wrong, what to do. */
export function sentences(told: { message: string; remedy: string; place?: string }): string {
  const sentence = (text: string) => (text ? text[0]!.toUpperCase() + text.slice(1) + (/[.!?:]$/.test(text) ? "" : ".") : "");
  return [told.place ? told.place + ":" : "", sentence(told.message), sentence(told.remedy)].filter(Boolean).join(" ");
}

/** Shows what went wrong in the reader's words. */
export function fail(error: unknown): void {
  if (error instanceof Fault) fault.value = sentences(error.told);
  else fault.value = error instanceof Error ? error.message : String(error);
}

let device = "";
let own: Promise<string> | undefined;

/** What this phone calls itself, made once. */
export function deviceId(): Promise<string> {
  return (own ??= (async () => {
    device = (await kept.setting<string>("device")) ?? "";
    if (!device) {
      device = "phone-" + hex(4);
      await kept.setSetting("device", device);
    }
    return device;
  })());
}

export async function boot(): Promise<void> {
  const asked = (await kept.setting<Language>("language")) ?? (navigator.language.startsWith("es") ? "es" : "en");
  language.value = asked;
  document.documentElement.lang = asked;
  person.value = (await kept.setting<string>("person")) ?? "";
  changes.value = (await kept.setting<Change[]>("changes")) ?? [];
  dark.value = (await kept.setting<boolean>("dark")) ?? false;
  answered.value = (await kept.setting<Record<string, string[]>>("answered " + today())) ?? {};
  await deviceId();
  await showKept();
  await account.know(asked);
  await enter();
  persisted.value = await kept.persist();
}

/** Opens the work of who is here. */
export async function enter(): Promise<void> {
  if (account.me.value?.person) await setPerson(account.me.value.person);
  try {
    await chooseJob();
    if (job.value && !home.value) await openKept();
    else await goTo(route.value);
  } catch (error) {
    working.value = "";
    if (error instanceof net.Refused && error.status === 401) account.asked.value = true;
    else fail(error);
  }
  void sync();
}

/** Another of the people signed in on this phone goes to work. */
export async function takePerson(name: string): Promise<void> {
  await account.take(name, language.value);
  await setPerson(name);
}

/** Shows the last number where all that it rests on is as it was; else says why not. */
async function showKept(): Promise<void> {
  const last = await kept.setting<kept.Shown>("shown");
  const k = last && (await kept.keptJob(last.job));
  if (!last || !k) return;
  heard.value = k.heard;
  const b = last.stand.basis;
  const by = b.check_by;
  if (k.revision !== b.revision) stale.value = t("stale.revision");
  else if (k.head !== b.head) stale.value = t("stale.log");
  else if (last.today !== today()) stale.value = t("stale.day");
  else if (by.millis > 0 && Date.now() > by.millis) stale.value = t("stale.checkBy", { tag: b.tag, time: by.time });
  else shown.value = last;
}

/** Takes the job used last, else the server's only or first one. */
async function chooseJob(): Promise<void> {
  const id = await kept.setting<string>("job");
  const here = id ? await kept.keptJob(id) : undefined;
  if (here) { job.value = here; return; }
  working.value = t("state.fetching");
  const { jobs } = await net.jobs(language.value);
  none.value = false;
  const first = jobs[0];
  if (!first) { working.value = ""; none.value = true; return; }
  await fetchJob(first.id);
}

export async function fetchJob(id: string): Promise<void> {
  const body = await net.job(id, language.value);
  const k: kept.KeptJob = { id, revision: body.revision, bundle: body.bundle, cursor: 0, heard: Date.now(), foremen: body.foremen };
  await kept.keepJob(k);
  await kept.setSetting("job", id);
  job.value = k;
  online.value = true;
  heard.value = k.heard;
  await pull();
}

/** Saves a job file and the files beside it as a new job, and opens it. */
export async function firstJob(files: FileList | null): Promise<void> {
  fault.value = "";
  try {
    const bundle: Bundle = { format: 1, main: "", files: {} };
    for (const file of files ?? []) {
      bundle.files[file.name] = await file.text();
      if (file.name.endsWith(".toml")) bundle.main = file.name;
    }
    if (!bundle.main) throw new Error(t("app.noToml"));
    const id = "job-" + hex(4);
    // The engine reads it first: what is wrong is told before anything is saved.
    await ask<Home>("open", { id, bundle, revision: 1, device, language: language.value, today: today(), foremen: [], comma: comma(), records: [] });
    await net.newJob(id, bundle, language.value);
    await fetchJob(id);
    await openKept();
  } catch (error) { fail(error); }
}

/** Fetches a job of the server and shows it. */
export async function openJob(id: string): Promise<void> {
  none.value = false;
  await fetchJob(id);
  await openKept();
  void sync();
}

async function openKept(): Promise<void> {
  const k = job.value;
  if (!k) return;
  working.value = t("state.planning");
  const records = (await kept.recordsOf(k.id)).filter((r) => r.state !== "refused").map((r) => r.record);
  const h = await ask<Home>("open", {
    id: k.id, bundle: k.bundle, revision: k.revision, device, language: language.value, today: today(), foremen: k.foremen ?? [], comma: comma(), records,
  }, (p) => { working.value = p.of ? `${t("state.planning")} ${Math.round((100 * p.done) / p.of)} %` : t("state.planning"); });
  home.value = h;
  working.value = "";
  await applied();
  if (h.changes.length) {
    changes.value = h.changes;
    await kept.setSetting("changes", changes.value);
  }
  await goTo(route.value);
  shown.value = undefined;
  stale.value = "";
}

/** What follows when the engine has applied what is kept. */
async function applied(): Promise<void> {
  if (job.value && home.value) {
    job.value = { ...job.value, head: home.value.basis.head };
    await kept.keepHead(job.value.id, home.value.basis.head);
  }
  watch.value = await ask<Watch>("watch").catch(() => undefined);
}

/** Notes that the changes were read. */
export async function readChanges(dig: string): Promise<void> {
  changes.value = changes.value.filter((c) => c.dig !== dig);
  await kept.setSetting("changes", changes.value);
}

/** Shows what the address names. */
export async function goTo(to: string): Promise<void> {
  route.value = to;
  const [, what, dig, tag, of] = to.split("/").map(decodeURIComponent);
  if (what !== "dig" || !dig || !home.value) return;
  if (of && of !== home.value.name) { // the code of a card of another job
    notice.value = [t("state.otherJob", { card: of, open: home.value.name })];
    history.replaceState(null, "", "#/");
    route.value = "/";
    return;
  }
  await openStand(dig, tag && tag !== "-" ? tag : "");
}

export async function openStand(dig: string, tag: string): Promise<void> {
  try {
    const s = await ask<Stand>("stand", { dig, tag });
    stand.value = s;
    await kept.setSetting("shown", { job: job.value!.id, stand: s, today: today() } satisfies kept.Shown);
  } catch (error) { fail(error); }
}

export const hex = (bytes: number) => Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (b) => b.toString(16).padStart(2, "0")).join("");

export const saying = (kind: string, words: Record<string, string>) => ({
  kind, words, person: person.value, millis: Date.now(), offset: -new Date().getTimezoneOffset(), random: hex(10),
});

/** Makes a record without keeping it. */
export const draft = (kind: string, words: Record<string, string>) => ask<Drafted>("draft", saying(kind, words));

/** Makes a record, keeps it on the phone and shows what it comes to. */
export async function say(kind: string, words: Record<string, string>, undo = ""): Promise<Drafted | undefined> {
  const said = await keep(() => draft(kind, words), undo);
  if (said && account.waits(kind, job.value!.id)) notice.value = [...said.told, t("state.willWait")];
  return said;
}

/** Keeps what make drafts: stored first, then applied, then sent. */
export async function keep<T extends Drafted>(make: () => Promise<T>, undo = ""): Promise<T | undefined> {
  fault.value = "";
  try {
    const left = await kept.room();
    const d = await kept.withChain(async () => {
      const made = await make();
      await kept.keepRecords([{ job: job.value!.id, id: made.id, record: made.record, state: "waiting", reason: "" }]);
      home.value = await ask<Home>("add", { records: [made.record] });
      await applied();
      return made;
    });
    notice.value = left !== undefined && left < 5_000_000 ? [t("state.room"), ...d.told] : d.told;
    undoable.value = undo ? { id: d.id, text: undo } : undefined;
    await refresh();
    void sync();
    return d;
  } catch (error) {
    fail(error);
    return undefined;
  }
}

/** Draws what is shown anew after records came. */
async function refresh(): Promise<void> {
  if (job.value) waiting.value = (await kept.recordsOf(job.value.id)).filter((r) => r.state === "waiting").length;
  if (stand.value && route.value.startsWith("/dig/")) await openStand(stand.value.dig, stand.value.tag);
}

export async function undo(): Promise<void> {
  const u = undoable.value;
  if (u) await say("correction", { record: u.id, reason: t("shot.undone") });
}

let syncing: Promise<void> | undefined;
let unfollow: (() => void) | undefined;

let asked = false; // for one more, while one is under way
let retry: ReturnType<typeof setTimeout> | undefined;

/** How long a page without a server waits before it tries again, ms. */
const retryAfter = 5000;

/** Sends what waits and reads what is new; without a server it tries again. */
export function sync(): Promise<void> {
  if (syncing) {
    asked = true;
    return syncing;
  }
  clearTimeout(retry);
  syncing = syncOnce().finally(() => {
    syncing = undefined;
    if (asked) {
      asked = false;
      void sync();
    } else if (!online.value) retry = setTimeout(() => void sync(), retryAfter);
  });
  return syncing;
}

async function syncOnce(): Promise<void> {
  const k = job.value;
  if (!k) return;
  try {
    await account.tellPerson(language.value);
    await pushWaiting(k.id);
    const fresh = await net.job(k.id, language.value);
    if (fresh.revision !== job.value!.revision) {
      next.value = { revision: fresh.revision, bundle: fresh.bundle, foremen: fresh.foremen };
      if (entering.value) notice.value = [t("state.revisedWaits", { revision: fresh.revision })];
      else await revise();
    }
    await pull();
    online.value = true;
    heard.value = Date.now();
    unfollow ??= net.follow(k.id, "", () => void sync(), (up) => { online.value = up; if (up && waiting.value) void sync(); });
  } catch (error) {
    online.value = false;
    if (error instanceof net.Refused) fail(error);
  }
  await refresh();
}

/** Takes the foreman's newer revision; the records stay. */
async function revise(): Promise<void> {
  const fresh = next.value;
  next.value = undefined;
  if (!fresh || !job.value) return;
  job.value = { ...job.value, revision: fresh.revision, bundle: fresh.bundle, foremen: fresh.foremen, head: "" };
  await kept.keepJob(job.value);
  await openKept();
  const touched = changes.value.filter((c) => c.dig === stand.value?.dig).map((c) => c.text);
  notice.value = [t("state.revised", { revision: fresh.revision }), ...(touched.length ? touched : [t("state.revisedElse")])];
}

// A newer revision that came while something was entered is taken when that is done.
effect(() => { if (!entering.value && next.value) untracked(() => void revise().catch(fail)); });

/** How long a phone may lie dark before it asks for the tag again, ms: a break. */
const breakAfter = 20 * 60_000;
let hiddenAt = 0;
document.addEventListener("visibilitychange", () => {
  if (document.hidden) hiddenAt = Date.now();
  else if (hiddenAt && Date.now() - hiddenAt > breakAfter) held.value = "";
});

async function pushWaiting(id: string): Promise<void> {
  const list = (await kept.recordsOf(id)).filter((r) => r.state === "waiting");
  for (let i = 0; i < list.length; i += 200) {
    const part = list.slice(i, i + 200);
    const { answers } = await net.push(id, { id: device, name: person.value || device }, part.map((r) => r.record), language.value);
    await kept.keepRecords(part.map((r, n) => {
      const a = answers[n]!;
      const state = a.outcome === "stored" || a.outcome === "known" ? "kept" : a.outcome === "refused" ? "refused" : "held";
      return { ...r, state, reason: a.reason } satisfies kept.KeptRecord;
    }));
  }
  asides.value = (await kept.recordsOf(id)).filter((r) => r.state === "held" || r.state === "refused");
}

/** Reads records on from the cursor and applies them. */
async function pull(): Promise<void> {
  let k = job.value!;
  const fresh: string[] = [];
  for (let more = true; more;) {
    const page = await net.readOn(k.id, k.cursor, language.value);
    // A record is kept in its canonical form (RFC 8785), which JSON.stringify
    // writes of what was read from it.
    const list = page.records.map((r) => ({ job: k.id, id: (r.record as { id: string }).id, record: JSON.stringify(r.record), state: "kept", reason: "" }) satisfies kept.KeptRecord);
    await kept.keepRecords(list);
    fresh.push(...list.map((r) => r.record));
    k = { ...job.value!, cursor: page.cursor, heard: Date.now(), ...(list.length ? { head: "" } : {}) };
    await kept.keepJob(k);
    job.value = k;
    more = page.more;
  }
  if (fresh.length && home.value) {
    home.value = await ask<Home>("add", { records: fresh });
    await applied();
  }
}

export async function setLanguage(l: Language): Promise<void> {
  language.value = l;
  document.documentElement.lang = l;
  await kept.setSetting("language", l);
  if (home.value) {
    home.value = await ask<Home>("speak", { language: l, comma: comma() });
    await refresh();
  }
}

export async function setPerson(name: string): Promise<void> {
  person.value = name;
  await kept.setSetting("person", name);
}

export async function setDark(on: boolean): Promise<void> {
  dark.value = on;
  await kept.setSetting("dark", on);
}

/** Remembers that a caution was answered Done today at a dig. */
export async function answerDone(dig: string, rule: string): Promise<void> {
  answered.value = { ...answered.value, [dig]: [...(answered.value[dig] ?? []), rule] };
  await kept.setSetting("answered " + today(), answered.value);
}

/** Works a set-up out without keeping it. */
export const trySetUp = (args: Record<string, unknown>) => ask<SetUp>("setup", { ...saying("setup", {}), ...args });
