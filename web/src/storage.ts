// Everything that the phone keeps, in one database.
import { openDB, type DBSchema, type IDBPDatabase } from "idb";
import type { Bundle, Stand } from "./types";

/** A job as it is kept; head is the engine's newest record, "" while records wait to be applied. */
export interface KeptJob { id: string; revision: number; bundle: Bundle; cursor: number; heard: number; head?: string }
export interface KeptRecord { job: string; id: string; record: string; state: "waiting" | "kept" | "held" | "refused"; reason: string }
/** The last number shown; what it rests on is stand.basis. */
export interface Shown { job: string; stand: Stand; today: string }

interface Schema extends DBSchema {
  jobs: { key: string; value: KeptJob };
  records: { key: [string, string]; value: KeptRecord; indexes: { job: string } };
  settings: { key: string; value: unknown };
}

let opened: Promise<IDBPDatabase<Schema>> | undefined;

function db(): Promise<IDBPDatabase<Schema>> {
  return (opened ??= openDB<Schema>("spadework", 1, {
    upgrade(d) {
      d.createObjectStore("jobs", { keyPath: "id" });
      d.createObjectStore("records", { keyPath: ["job", "id"] }).createIndex("job", "job");
      d.createObjectStore("settings");
    },
  }));
}

export async function setting<T>(key: string): Promise<T | undefined> { return (await (await db()).get("settings", key)) as T | undefined; }
export async function setSetting(key: string, value: unknown): Promise<void> { await (await db()).put("settings", value, key); }

export async function keptJobs(): Promise<KeptJob[]> { return (await db()).getAll("jobs"); }
export async function keptJob(id: string): Promise<KeptJob | undefined> { return (await db()).get("jobs", id); }
export async function keepJob(job: KeptJob): Promise<void> { await (await db()).put("jobs", job); }

export async function recordsOf(job: string): Promise<KeptRecord[]> { return (await db()).getAllFromIndex("records", "job", job); }

/** Keeps records in one transaction that is on the disk when it ends. */
export async function keepRecords(list: KeptRecord[]): Promise<void> {
  const tx = (await db()).transaction(["records", "jobs"], "readwrite", { durability: "strict" });
  const records = tx.objectStore("records"), jobs = tx.objectStore("jobs");
  for (const r of list) {
    const here = await records.get([r.job, r.id]);
    if (here && here.state !== "waiting" && r.state !== "kept") continue;
    await records.put(r);
    const job = here ? undefined : await jobs.get(r.job);
    if (job) await jobs.put({ ...job, head: "" }); // no number kept stands before the engine has seen this
  }
  await tx.done;
}

/** Keeps what the engine's newest record is, once it has applied all that is kept. */
export async function keepHead(id: string, head: string): Promise<void> {
  const tx = (await db()).transaction("jobs", "readwrite");
  const job = await tx.store.get(id);
  if (job) await tx.store.put({ ...job, head });
  await tx.done;
}

/** One tab at a time writes the device's chain. */
export function withChain<T>(work: () => Promise<T>): Promise<T> {
  return navigator.locks.request("spadework-chain", work) as Promise<T>;
}

/** Asks that nothing is thrown away; the answer is shown. */
export async function persist(): Promise<boolean> {
  return (await navigator.storage?.persist?.()) ?? false;
}

/** How much room is left, in bytes; undefined where the browser does not tell. */
export async function room(): Promise<number | undefined> {
  const e = await navigator.storage?.estimate?.();
  return e?.quota !== undefined && e.usage !== undefined ? e.quota - e.usage : undefined;
}
