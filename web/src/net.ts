// What is asked of the server.
import type { Bundle } from "./types";

export interface JobLine { id: string; name: string; revision: number; cursor: number }
interface JobBody { id: string; revision: number; bundle: Bundle; foremen: string[] }
export interface Answer { id: string; outcome: "stored" | "known" | "held" | "quarantined" | "refused"; cursor: number; reason: string }

/** An answer of the server that is no success. */
export class Refused extends Error {
  constructor(readonly status: number, message: string, readonly key = "") { super(message); }
}

export async function send<T>(method: string, path: string, lang: string, body?: unknown): Promise<T> {
  const answer = await fetch(path, {
    method, cache: "no-store",
    headers: { "Accept-Language": lang, ...(body === undefined ? {} : { "Content-Type": "application/json" }) },
    body: body === undefined ? undefined : JSON.stringify(body),
  });
  if (!answer.ok) {
    const told = await answer.json().catch(() => undefined);
    throw new Refused(answer.status, told?.error ? sentence(told.error) : String(answer.status), told?.error?.key);
  }
  return (answer.status === 204 ? undefined : await answer.json()) as T;
}

const sentence = (told: { message: string; remedy?: string }) => told.message + (told.remedy ? ". " + told.remedy : "");
export const get = <T>(path: string, lang: string) => send<T>("GET", path, lang);

const path = (job: string) => "/api/jobs/" + encodeURIComponent(job);

export const jobs = (lang: string) => send<{ jobs: JobLine[] }>("GET", "/api/jobs", lang);
export const job = (id: string, lang: string) => send<JobBody>("GET", path(id), lang);
export const newJob = (id: string, bundle: Bundle, lang: string) => send<{ id: string; revision: number }>("POST", "/api/jobs", lang, { id, bundle });
export const push = (id: string, device: { id: string; name: string }, records: string[], lang: string) =>
  fetch(path(id) + "/records", {
    method: "POST", cache: "no-store", headers: { "Accept-Language": lang, "Content-Type": "application/json" },
    // The records are sent byte for byte as they were made.
    body: `{"device":${JSON.stringify(device)},"records":[${records.join(",")}]}`,
  }).then(async (a) => {
    if (!a.ok) throw new Refused(a.status, (await a.json().catch(() => undefined))?.error?.message ?? String(a.status));
    return a.json() as Promise<{ answers: Answer[]; cursor: number; now: number }>;
  });

/** Reads on; records keep their bytes. */
export async function readOn(id: string, after: number, lang: string): Promise<{ records: { cursor: number; record: unknown }[]; cursor: number; more: boolean; now: number }> {
  return send("GET", `${path(id)}/records?after=${after}`, lang);
}

/** Follows the changes of a job until stopped. */
export function follow(id: string, mark: string, changed: () => void, up: (online: boolean) => void): () => void {
  const source = new EventSource(path(id) + "/events" + (mark ? "" : ""));
  source.addEventListener("records", changed);
  source.addEventListener("job", changed);
  source.onopen = () => up(true);
  source.onerror = () => up(false);
  return () => source.close();
}
