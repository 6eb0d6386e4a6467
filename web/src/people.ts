// What a foreman does about people, and everybody about the own devices.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as account from "./account";
import { html } from "./html";
import { Refused, send } from "./net";
import { roleName } from "./signin";
import * as s from "./state";

interface Session { id: string; device: string; name: string; people: string[]; started: number; seen: number; here: boolean }
interface Person { person: string; roles: string[]; every_job: string[]; sessions: Session[] }
interface Invitation { id: string; person: string; roles: string[]; by: string; ends: number }
interface Made extends Invitation { path: string; code: { size: number; path: string } }
interface Change { number: number; at: number; by: string; act: string; job: string; person: string; detail: string }
interface Aside { record: string; status: string; reason: string; received: number }

const list = signal<{ people: Person[]; invitations: Invitation[] } | undefined>();
const made = signal<Made | undefined>();
const chosen = signal<string[]>(["operator"]);
const everyJob = signal(false);
const changes = signal<Change[]>([]);
const asides = signal<Aside[]>([]);
const mine = signal<Session[]>([]);
const said = signal("");
const sure = signal(""); // device that the next tap calls lost: that cannot be undone

const path = (rest: string) => `/api/jobs/${encodeURIComponent(s.job.value?.id ?? "")}/${rest}`;

/** Asks the server; where it wants to know anew who it is, the sign-in comes first. */
async function ask<T>(method: string, to: string, body?: unknown): Promise<T | undefined> {
  s.fault.value = "";
  try {
    return await send<T>(method, to, s.language.value, body);
  } catch (error) {
    if (error instanceof Refused && error.status === 401) account.asked.value = true;
    s.fail(error);
    return undefined;
  }
}

async function load(): Promise<void> { list.value = (await ask("GET", path("people"))) ?? list.value; }

const when = (ms: number) => new Date(ms).toLocaleString(s.language.value, { dateStyle: "short", timeStyle: "short" });
const toggled = (roles: string[], role: string) => (roles.includes(role) ? roles.filter((r) => r !== role) : [...roles, role]);

function RoleKeys({ roles, change }: { roles: string[]; change: (roles: string[]) => void }) {
  return html`<div class="grid">${account.roles.map((r) => html`<button type="button" class="key" aria-pressed=${roles.includes(r)} onClick=${() => change(toggled(roles, r))}>${roleName(r)}</button>`)}</div>`;
}

function Devices({ sessions, end, revoke }: { sessions: Session[]; end: (one: Session) => void; revoke?: (one: Session) => void }) {
  return html`<ul class="plain">${sessions.map((d) => html`<li class="tag"><p><strong>${d.name}</strong> ${d.here ? s.t("people.here") : ""} <span class="quiet">${d.people.join(", ")} · ${s.t("people.seen", { time: when(d.seen) })}</span></p>
    <p class="pair"><button class="key" onClick=${() => end(d)}>${s.t("people.end")}</button>
    ${revoke && !d.here && html`<button class="key" onClick=${() => { if (sure.value === d.device) revoke(d); sure.value = sure.value === d.device ? "" : d.device; }}>${s.t(sure.value === d.device ? "people.sure" : "people.revoke")}</button>`}</p></li>`)}</ul>`;
}

function One({ p }: { p: Person }) {
  const roles = [...new Set([...p.every_job, ...p.roles])];
  return html`<details class="boxed"><summary>${p.person} <span class="quiet">${roles.map(roleName).join(", ") || s.t("people.noRole")}</span></summary>
    ${p.every_job.length > 0 && html`<p>${s.t("people.everyJob")}: ${p.every_job.map(roleName).join(", ")}</p>`}
    <p>${s.t("people.rolesHere")}</p>
    <${RoleKeys} roles=${p.roles} change=${async (next: string[]) => { list.value = (await ask("PUT", path(`people/${encodeURIComponent(p.person)}`), { roles: next, every_job: false })) ?? list.value; }} />
    <${Devices} sessions=${p.sessions} end=${async (d: Session) => { await ask("DELETE", path(`sessions/${d.id}`)); await load(); }}
      revoke=${async (d: Session) => { await ask("POST", path(`devices/${encodeURIComponent(d.device)}/revoke`), { reason: s.t("people.lost") }); await load(); }} />
    <button class="key" onClick=${() => void invite(p.person, p.roles)}>${s.t("people.again")}</button></details>`;
}

async function invite(person: string, roles: string[]): Promise<void> {
  made.value = (await ask<Made>("POST", path("invitations"), { person, roles, every_job: everyJob.value })) ?? undefined;
  if (made.value) document.querySelector("main")?.scrollTo(0, 0);
  await load();
}

/** The invitation just made: to be scanned or sent, shown this once. */
function MadeCard() {
  const m = made.value!;
  const link = location.origin + m.path;
  return html`<section class="boxed made"><h2>${s.t("people.made", { person: m.person })}</h2>
    <svg class="code" role="img" aria-label=${s.t("people.code", { person: m.person })} viewBox=${`0 0 ${m.code.size} ${m.code.size}`}><path d=${m.code.path} /></svg>
    <p>${s.t("people.once", { time: when(m.ends) })}</p><p class="link">${link}</p>
    <p class="pair"><button class="key" onClick=${() => { void navigator.clipboard.writeText(link).then(() => { s.notice.value = [s.t("people.copied")]; }); }}>${s.t("people.copy")}</button>
    <button class="key" onClick=${() => { made.value = undefined; }}>${s.t("key.close")}</button></p></section>`;
}

export function PeopleScreen() {
  const job = s.job.value?.id ?? "";
  useEffect(() => { void load(); }, [job, account.me.value?.person]);
  const site = account.me.value?.roles.some((r) => r.role === "foreman" && r.job === "");
  return html`<main><h1>${s.t("people.title")}</h1>
    ${made.value && html`<${MadeCard} />`}
    ${list.value?.people.map((p) => html`<${One} p=${p} key=${p.person} />`)}
    <form class="slip" onSubmit=${(e: SubmitEvent) => {
      e.preventDefault();
      const form = e.target as HTMLFormElement;
      void invite(String(new FormData(form).get("person") ?? ""), chosen.value).then(() => form.reset());
    }}><h2>${s.t("people.invite")}</h2>
      <label>${s.t("people.name")}<input name="person" required maxlength="100" autocomplete="off" /></label>
      <${RoleKeys} roles=${chosen.value} change=${(next: string[]) => { chosen.value = next; }} />
      ${site && html`<button type="button" class="key" aria-pressed=${everyJob.value} onClick=${() => { everyJob.value = !everyJob.value; }}>${s.t("people.everyJob")}</button>`}
      <button class="key main">${s.t("people.make")}</button></form>
    ${(list.value?.invitations.length ?? 0) > 0 && html`<section><h2>${s.t("people.waiting")}</h2><ul class="plain">${list.value!.invitations.map((i) => html`<li class="tag"><p><strong>${i.person}</strong> ${i.roles.map(roleName).join(", ")} <span class="quiet">${s.t("people.till", { time: when(i.ends) })}</span></p>
      <button class="key" onClick=${async () => { await ask("DELETE", path(`invitations/${i.id}`)); await load(); }}>${s.t("people.withdraw")}</button></li>`)}</ul></section>`}
    <p class="pair"><a class="key" href="#/people/held">${s.t("held.title")}</a><a class="key" href="#/people/audit">${s.t("audit.title")}</a></p>
  </main>`;
}

const actName = (act: string) => s.t(`act.${act}` as Parameters<typeof s.t>[0]);
const ofJobs = ["granted", "ended", "invited", "joined", "recovered", "withdrawn"]; // what is done in a job or in every job
const whom = (c: Change) => (c.person && (c.person !== c.by || c.act === "session_ended") ? " " + c.person : "");
const detail = (c: Change) => (c.act === "granted" || c.act === "ended" || c.act === "invited" ? c.detail.split(",").filter(Boolean).map(roleName).join(", ") : c.detail);

export function AuditScreen() {
  useEffect(() => { void ask<{ changes: Change[] }>("GET", path("audit")).then((a) => { changes.value = a?.changes ?? []; }); }, []);
  return html`<main><h1>${s.t("audit.title")}</h1><table class="log"><tbody>${changes.value.map((c) => html`<tr><td>${when(c.at)}</td><td>${c.by}</td><td>${actName(c.act)}${whom(c)}${detail(c) ? `: ${detail(c)}` : ""}${c.job || !ofJobs.includes(c.act) ? "" : html` <span class="quiet">${s.t("people.everyJob")}</span>`}</td></tr>`)}</tbody></table>
    <a class="key" href="#/people">${s.t("people.title")}</a></main>`;
}

/** Records set aside; the foreman's accepting record lets them in. */
export function HeldScreen() {
  const look = async () => { asides.value = (await ask<{ asides: Aside[] }>("GET", path("quarantine")))?.asides ?? []; };
  useEffect(() => { void look(); }, []);
  const read = (a: Aside) => JSON.parse(a.record) as { id: string; person: string; kind: string };
  const held = asides.value.filter((a) => a.status === "held");
  return html`<main><h1>${s.t("held.title")}</h1>
    ${held.length === 0 && html`<p>${s.t("held.none")}</p>`}
    <ul class="plain">${held.map((a) => html`<li class="tag"><p><strong>${read(a).person}</strong> ${read(a).kind} <span class="quiet">${when(a.received)}</span></p><p>${a.reason}</p>
      <button class="key" onClick=${async () => {
        if (await s.say("accept", { records: read(a).id, reason: s.t("held.reason") })) { await s.sync(); await look(); }
      }}>${s.t("held.accept")}</button></li>`)}</ul>
    <a class="key" href="#/people">${s.t("people.title")}</a></main>`;
}

export function AccountScreen() {
  const look = async () => { mine.value = (await ask<{ sessions: Session[] }>("GET", "/api/me/sessions"))?.sessions ?? []; };
  useEffect(() => { said.value = ""; void look(); }, [account.me.value?.person]);
  return html`<main><h1>${s.t("account.title")}</h1>
    <p class="readback"><strong>${account.me.value?.person}</strong></p>
    <h2>${s.t("account.devices")}</h2>
    <${Devices} sessions=${mine.value} end=${async (d: Session) => { await ask("DELETE", `/api/me/sessions/${d.id}`); if (d.here) location.reload(); else await look(); }} />
    <h2>${s.t("account.proof")}</h2>
    ${said.value && html`<p class="notice" role="status">${said.value}</p>`}
    ${account.me.value?.passkeys && html`<button class="key" onClick=${() => void account.addPasskey(s.language.value).then(() => { said.value = s.t("account.passkeyMade"); }, (error) => {
      if (error instanceof Refused && error.status === 401) account.asked.value = true;
      if (error instanceof DOMException) s.fault.value = s.t("sign.cancelled"); else s.fail(error);
    })}>${s.t("account.passkey")}</button>`}
    <form onSubmit=${async (e: SubmitEvent) => {
      e.preventDefault();
      const form = e.target as HTMLFormElement;
      await ask("PUT", "/api/me/password", { password: String(new FormData(form).get("password") ?? "").trim() });
      if (!s.fault.value) { said.value = s.t("account.passwordSet"); form.reset(); }
    }}><label>${s.t("account.newPassword")}<input name="password" type="password" required minlength="15" maxlength="200" autocomplete="new-password" /></label>
      <button class="key">${s.t("account.setPassword")}</button></form>
    <h2>${s.t("account.leave")}</h2>
    <p>${s.t("account.leaveWhy")}</p>
    <button class="key" onClick=${() => void account.signOut(s.language.value).then(() => { location.hash = "/sign-in"; }, s.fail)}>${s.t("account.signOut")}</button>
  </main>`;
}
