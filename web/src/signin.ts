// Signing in, and coming by an invitation.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as account from "./account";
import { html } from "./html";
import * as s from "./state";

const secret = signal(""); // of the invitation that was followed
const to = signal<account.InvitedTo | undefined>();
const busy = signal(false);

/** Takes the secret out of the address, so that it stays in no history. */
export function takeLink(): void {
  const found = /^#\/invited\/([\w-]+)$/.exec(location.hash);
  if (!found) return;
  secret.value = found[1]!;
  to.value = undefined;
  history.replaceState(null, "", "#/invited");
  s.route.value = "/invited";
}

/** Does what lets somebody in, then opens the work. */
async function enter(way: (device: string) => Promise<void>, then: string): Promise<void> {
  busy.value = true;
  s.fault.value = "";
  try {
    await way(await s.deviceId());
    account.asked.value = false;
    location.hash = then;
    await s.enter();
  } catch (error) {
    if (error instanceof DOMException) s.fault.value = s.t("sign.cancelled");
    else s.fail(error);
  }
  busy.value = false;
}

const word = (e: SubmitEvent, name: string) => String(new FormData(e.target as HTMLFormElement).get(name) ?? "").trim();

export function SignInScreen() {
  const lang = s.language.value;
  const m = account.me.value;
  const back = s.route.value === "/sign-in" || s.route.value === "/invited" ? "/" : s.route.value;
  return html`<main><h1>${s.t("sign.title")}</h1>
    ${m?.ended && html`<p class="caution">${s.t("sign.ended")}</p>`}
    ${m?.passkeys && html`<button class="key main" disabled=${busy.value} onClick=${() => void enter((device) => account.byPasskey(device, lang), back)}>${s.t("sign.passkey")}</button>`}
    ${m?.online_only && html`<p class="caution">${s.t("sign.onlineOnly")}</p>`}
    <form onSubmit=${(e: SubmitEvent) => {
      e.preventDefault();
      void enter((device) => account.byPassword(word(e, "name"), word(e, "password"), device, lang), back);
    }}>
      <label>${s.t("sign.name")}<input name="name" required maxlength="100" autocomplete="username" /></label>
      <label>${s.t("sign.password")}<input name="password" type="password" required maxlength="200" autocomplete="current-password" /></label>
      <button class="key" disabled=${busy.value}>${s.t("sign.byPassword")}</button>
    </form>
    <p class="quiet">${s.t("sign.none")}</p>
    <${Languages} /></main>`;
}

function Languages() {
  return html`<p class="pair"><button class="key" lang="en" aria-pressed=${s.language.value === "en"} onClick=${() => void s.setLanguage("en")}>English</button>
    <button class="key" lang="es" aria-pressed=${s.language.value === "es"} onClick=${() => void s.setLanguage("es")}>Español</button></p>`;
}

export const roleName = (role: string) => s.t(`role.${role}` as Parameters<typeof s.t>[0]);

export function InvitedScreen() {
  const lang = s.language.value;
  useEffect(() => {
    if (secret.value) void account.look(secret.value, lang).then((i) => { to.value = i; }, s.fail);
  }, [secret.value, lang]);
  const i = to.value;
  if (!i) return html`<main><h1>${s.t("invited.title")}</h1>${(!secret.value || s.fault.value) && html`<p>${s.t("invited.follow")}</p>`}<${Languages} /></main>`;
  const name = signalName;
  const given = () => i.person || name.value.trim();
  const join = (way: (device: string) => Promise<void>) => void enter(async (device) => { await way(device); secret.value = ""; to.value = undefined; }, "/");
  return html`<main><h1>${s.t("invited.title")}</h1>
    <p>${s.t("invited.to", { job: i.job || s.t("people.everyJob"), roles: i.roles.map(roleName).join(", ") || "–" })}</p>
    ${i.person ? html`<p class="readback"><strong>${i.person}</strong></p>` : html`<label>${s.t("invited.name")}<input name="name" required maxlength="100" autocomplete="name" value=${name.value} onInput=${(e: Event) => { name.value = (e.target as HTMLInputElement).value; }} /></label>`}
    ${i.passkeys && html`<section class="boxed"><p>${s.t("invited.passkeyWhy")}</p>
      <button class="key main" disabled=${busy.value || !given()} onClick=${() => join((device) => account.joinByPasskey(secret.value, given(), device, lang))}>${s.t("invited.passkey")}</button></section>`}
    <form class="slip" onSubmit=${(e: SubmitEvent) => { e.preventDefault(); join((device) => account.joinByPassword(secret.value, given(), word(e, "password"), device, lang)); }}>
      <p>${s.t("invited.passwordWhy")}</p>
      <input type="hidden" name="username" autocomplete="username" value=${given()} />
      <label>${s.t("sign.password")}<input name="password" type="password" required minlength="15" maxlength="200" autocomplete="new-password" /></label>
      <button class="key" disabled=${busy.value}>${s.t("invited.password")}</button>
    </form>
    <${Languages} /></main>`;
}

const signalName = signal("");

/** Where several share a phone: whose turn it is, one tap. */
export function Turn() {
  const m = account.me.value;
  if (!m || m.open || m.people.length < 2) return null;
  return html`<div class="turn" role="group" aria-label=${s.t("me.turn")}>${m.people.map((p) => html`<button class="key" aria-pressed=${p === m.person} onClick=${() => void s.takePerson(p)}>${p}</button>`)}</div>`;
}

/** What the Me screen tells of the account. */
export function WhoAmI() {
  const m = account.me.value!;
  const job = s.job.value?.id ?? "";
  return html`<section>
    <p class="readback"><strong>${m.person || s.t("me.nobody")}</strong> <span class="quiet">${[...new Set(m.roles.filter((r) => r.job === job || r.job === "").map((r) => r.role))].map(roleName).join(", ")}</span></p>
    <p class="pair"><a class="key" href="#/sign-in">${s.t("me.another")}</a><a class="key" href="#/account">${s.t("account.title")}</a></p>
    ${account.is("foreman", job) && html`<a class="key" href="#/people">${s.t("people.title")}</a>`}
  </section>`;
}
