// Who is at work on this phone, where the server asks for accounts.
import { signal } from "@preact/signals";
import { get, Refused, send } from "./net";
import * as kept from "./storage";

export interface Role { job: string; role: string; adds: string[] }
export interface Me { open: boolean; person: string; ended: boolean; people: string[]; roles: Role[]; passkeys: boolean; online_only: boolean }
interface Ceremony { ceremony: string; options: { publicKey: Record<string, unknown> } }
export interface InvitedTo { person: string; job: string; roles: string[]; ends: number; passkeys: boolean }

export const me = signal<Me | undefined>();
export const roles = ["foreman", "operator", "checker", "competent", "inspector"] as const;
/** The server asks who it is, and nothing is shown before it knows. */
export const asked = signal(false);
/** The person of the server's session is still another: it was changed without signal. */
const behind = "account behind";

/** Asks the server who is at work; without it, what was kept holds. */
export async function know(lang: string): Promise<void> {
  const before = await kept.setting<Me>("me");
  try {
    const fresh = await get<Me>("/api/me", lang);
    const person = (await kept.setting<boolean>(behind)) && before && fresh.people.includes(before.person) ? before.person : fresh.person;
    await set({ ...fresh, person });
  } catch { me.value = before; }
}

async function set(value: Me): Promise<void> {
  me.value = value;
  await kept.setSetting("me", value);
}

/** Whether the person at work has a role in a job. */
export const is = (role: string, job: string) => me.value?.open === false && me.value.roles.some((r) => r.role === role && (r.job === job || r.job === ""));

/** Whether a record of the person at work will wait for the foreman; not while its roles are not known. */
export const waits = (kind: string, job: string) => me.value?.open === false && me.value.roles.length > 0 &&
  !me.value.roles.some((r) => (r.job === job || r.job === "") && r.adds.includes(kind));

/** Another of the people signed in here goes to work: at once, the server is told when it is reached. */
export async function take(person: string, lang: string): Promise<void> {
  const m = me.value!;
  await kept.setSetting(behind, true);
  await set({ ...m, person, roles: [] });
  await tellPerson(lang);
}

/** Tells the server of a change of person that it missed. */
export async function tellPerson(lang: string): Promise<void> {
  if (!(await kept.setting<boolean>(behind)) || !me.value) return;
  try {
    await set(await send<Me>("PUT", "/api/me/person", lang, { person: me.value.person }));
  } catch (error) {
    if (!(error instanceof Refused)) return; // no signal: later
  }
  await kept.setSetting(behind, false);
}

/** What this phone is called in the list of devices. */
export function device(id: string): { id: string; name: string } {
  const agent = navigator.userAgent;
  const kind = /Android/.test(agent) ? "Android" : /iPhone|iPad/.test(agent) ? "iPhone" : "Computer";
  return { id, name: `${kind} ${id.slice(-4)}` };
}

const bytes = (text: string) => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
const letters = (data: ArrayBuffer) => btoa(String.fromCharCode(...new Uint8Array(data))).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");

interface Descriptor { id: string; type: "public-key" }
const descriptors = (list: unknown) => ((list ?? []) as Descriptor[]).map((d) => ({ ...d, id: bytes(d.id) }));

/** Makes a passkey on this phone. */
async function make(c: Ceremony): Promise<unknown> {
  const o = c.options.publicKey as unknown as PublicKeyCredentialCreationOptions & { challenge: string; user: { id: string } };
  const made = (await navigator.credentials.create({ publicKey: { ...o, challenge: bytes(o.challenge), user: { ...o.user, id: bytes(o.user.id) }, excludeCredentials: descriptors(o.excludeCredentials) } as PublicKeyCredentialCreationOptions })) as PublicKeyCredential;
  const r = made.response as AuthenticatorAttestationResponse;
  return {
    id: made.id, rawId: letters(made.rawId), type: made.type, clientExtensionResults: made.getClientExtensionResults(), authenticatorAttachment: made.authenticatorAttachment ?? undefined,
    response: { clientDataJSON: letters(r.clientDataJSON), attestationObject: letters(r.attestationObject), transports: r.getTransports?.() ?? [] },
  };
}

/** Uses a passkey that this phone knows. */
async function use(c: Ceremony): Promise<unknown> {
  const o = c.options.publicKey as unknown as PublicKeyCredentialRequestOptions & { challenge: string };
  const used = (await navigator.credentials.get({ publicKey: { ...o, challenge: bytes(o.challenge), allowCredentials: descriptors(o.allowCredentials) } as PublicKeyCredentialRequestOptions })) as PublicKeyCredential;
  const r = used.response as AuthenticatorAssertionResponse;
  return {
    id: used.id, rawId: letters(used.rawId), type: used.type, clientExtensionResults: used.getClientExtensionResults(), authenticatorAttachment: used.authenticatorAttachment ?? undefined,
    response: { clientDataJSON: letters(r.clientDataJSON), authenticatorData: letters(r.authenticatorData), signature: letters(r.signature), userHandle: r.userHandle ? letters(r.userHandle) : null },
  };
}

export async function byPassword(name: string, password: string, id: string, lang: string): Promise<void> {
  await set(await send<Me>("POST", "/api/sign-in/password", lang, { name, password, device: device(id) }));
}

export async function byPasskey(id: string, lang: string): Promise<void> {
  const c = await send<Ceremony>("POST", "/api/sign-in/passkey", lang);
  await set(await send<Me>("POST", "/api/sign-in/passkey/finish", lang, { ceremony: c.ceremony, credential: await use(c), device: device(id) }));
}

export const look = (secret: string, lang: string) => send<InvitedTo>("POST", "/api/invitations/look", lang, { secret });

export async function joinByPassword(secret: string, name: string, password: string, id: string, lang: string): Promise<void> {
  await set(await send<Me>("POST", "/api/invitations/join", lang, { secret, name, language: lang, password, device: device(id) }));
}

export async function joinByPasskey(secret: string, name: string, id: string, lang: string): Promise<void> {
  const c = await send<Ceremony>("POST", "/api/invitations/passkey", lang, { secret, name });
  const credential = await make(c);
  await set(await send<Me>("POST", "/api/invitations/join", lang, { secret, name, language: lang, ceremony: c.ceremony, credential, device: device(id) }));
}

export async function addPasskey(lang: string): Promise<void> {
  const c = await send<Ceremony>("POST", "/api/me/passkeys", lang);
  await send<void>("POST", "/api/me/passkeys/finish", lang, { ceremony: c.ceremony, credential: await make(c) });
}

export async function signOut(lang: string): Promise<void> {
  await send<void>("POST", "/api/sign-out", lang);
  await set({ ...me.value!, person: "", people: [], roles: [] });
}
