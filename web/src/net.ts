// What is asked of the server.
import type { Bundle } from "./types";

export interface JobLine { id: string; name: string; revision: number; cursor: number }
export interface JobBody { id: string; revision: number; person: string; saved: number; bundle: Bundle }
export interface Answer { id: string; outcome: "stored" | "known" | "held" | "quarantined" | "refused"; cursor: number; reason: string }

export interface Theirs { revision: number; person: string; saved: number }

/** An answer of the server that is no success. */
export class Refused extends Error {
  constructor(readonly status: number, message: string, readonly theirs?: Theirs) { super(message); }
}

async function send<T>(method: string, path: string, lang: string, body?: unknown, more: Record<string, string> = {}): Promise<T> {
  const answer = await fetch(path, {
    method, cache: "no-store",
    headers: { "Accept-Language": lang, ...(body === undefined ? {} : { "Content-Type": "application/json" }), ...more },
    body: body === undefined ? undefined : JSON.stringify(body),
  });
  if (!answer.ok) {
    const told = await answer.json().catch(() => undefined);
    const says = told?.error?.message ? `${told.error.message} ${told.error.remedy ?? ""}`.trim() : String(answer.status);
    throw new Refused(answer.status, says, told?.error?.theirs ?? told?.theirs);
  }
  return answer.json() as Promise<T>;
}

const path = (job: string) => "/api/jobs/" + encodeURIComponent(job);

export const jobs = (lang: string) => send<{ jobs: JobLine[] }>("GET", "/api/jobs", lang);
export const job = (id: string, lang: string) => send<JobBody>("GET", path(id), lang);
const by = (person: string): Record<string, string> => (person ? { "Spadework-Person": encodeURIComponent(person) } : {});
export const newJob = (id: string, bundle: Bundle, lang: string, person = "") => send<{ id: string; revision: number }>("POST", "/api/jobs", lang, { id, bundle }, by(person));
/** Saves the next revision after base; a lost race is a Refused with theirs. */
export const saveJob = (id: string, base: number, bundle: Bundle, lang: string, person: string) =>
  send<{ id: string; revision: number }>("PUT", path(id), lang, { bundle }, { "If-Match": `"${base}"`, ...by(person) });
/** Keeps a picture under its SHA-256. */
export async function putPhoto(picture: Blob, lang: string): Promise<{ digest: string; size: number; media: string }> {
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await picture.arrayBuffer()));
  const digest = Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
  const answer = await fetch("/api/photos/" + digest, { method: "PUT", cache: "no-store", headers: { "Accept-Language": lang, "Content-Type": "application/octet-stream" }, body: picture });
  if (!answer.ok) throw new Refused(answer.status, (await answer.json().catch(() => undefined))?.error?.message ?? String(answer.status));
  return answer.json() as Promise<{ digest: string; size: number; media: string }>;
}
export const photoPath = (digest: string) => "/api/photos/" + digest;
export const paperPath = (id: string, name: "proof" | "sheets", lang: string) => `${path(id)}/${name}.pdf?lang=${lang}`;
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
