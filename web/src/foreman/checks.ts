// Checks and proof: what was dug, what it is worth, what is signed.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { html } from "../html";
import { Name } from "../home";
import * as net from "../net";
import { Drawing } from "../scene";
import * as s from "../state";
import { ask, openSaved } from "./draft";
import { word } from "./forms";
import { Sheet } from "./paper";
import { SiteMapView } from "./sitemap";
import type { AsBuilt, Beam, BuiltDig, BuiltPoint, Watch } from "./types";

const built = signal<AsBuilt | undefined>();
const ready = signal(0);
const watch = signal<Watch | undefined>();

/** Opens the saved job with every record and reads what it comes to. */
async function refresh(): Promise<void> {
  try {
    await ask("tongue", { language: s.language.value });
    await openSaved();
    built.value = await ask<AsBuilt>("as_built");
    watch.value = await ask<Watch>("watch");
    ready.value++;
  } catch (error) { s.fail(error); }
}

const tabs = [["", "checks.built"], ["over", "checks.over"], ["holds", "checks.holds"], ["extra", "checks.extra"], ["left", "checks.left"], ["sign", "checks.sign"]] as const;

export function ChecksScreen({ what }: { what: string }) {
  const b = s.home.value!.basis;
  useEffect(() => { void refresh(); }, [s.job.value?.id, b.records, b.revision, s.language.value]);
  return html`<main class="foreman"><header><h1>${s.t("checks.title")}</h1></header>
    <nav class="tabs" aria-label=${s.t("checks.title")}>${tabs.map(([to, text]) => html`<a href=${`#/checks${to ? "/" + to : ""}`} aria-current=${what === to ? "page" : undefined}>${s.t(text)}</a>`)}</nav>
    ${!s.person.value && html`<${Name} />`}
    ${built.value ? screen(what, built.value) : html`<p class="quiet">${s.t("plan.loading")}</p>`}</main>`;
}

function screen(what: string, a: AsBuilt) {
  switch (what) {
    case "over": return html`<${Over} a=${a} />`;
    case "holds": return html`<${Holds} a=${a} />`;
    case "extra": return html`<${Extra} a=${a} />`;
    case "left": return html`<${Left} a=${a} />`;
    case "sign": return html`<${Sign} a=${a} />`;
  }
  return html`<${Built} a=${a} />`;
}

function Built({ a }: { a: AsBuilt }) {
  const shot = a.digs.filter((one) => one.points.length > 0);
  const bare = a.digs.filter((one) => !one.points.length);
  return html`<div class="split"><div><${SiteMapView} key=${ready.value} shots=${true} picked=${() => undefined} /><p class="quiet">${s.t("checks.signs")}</p></div>
    <div class="side"><h2>${s.t("checks.built")}</h2>
      ${shot.length ? html`<div class="wide" tabindex="0" role="region" aria-label=${s.t("checks.built")}><table class="rows"><thead><tr>${(["checks.dig", "checks.wanted", "checks.height", "checks.off", "checks.worth"] as const).map((k) => html`<th scope="col">${s.t(k)}</th>`)}</tr></thead>
        <tbody>${shot.flatMap((one) => one.points.map((p) => html`<tr class=${p.verdict === "good" ? "" : "out"}><td>${one.id} ${p.label}</td><td class="right">${p.wanted}</td><td class="right">${p.height}</td><td>${p.off}</td><td>${p.told}<br /><span class="quiet">${p.tag} · ${p.person} ${p.time}</span></td></tr>`))}</tbody></table></div>` : html`<p>${s.t("checks.noShot")}</p>`}
      ${bare.length > 0 && html`<p class="quiet">${s.t("checks.unshot", { digs: bare.map((one) => one.id).join(", ") })}</p>`}</div></div>
    ${a.shots && html`<h2>${s.t("checks.overTime")}</h2><${Drawing} scene=${a.shots} name=${s.t("checks.overTime")} />`}
    ${a.closes && html`<h2>${s.t("checks.closes")}</h2><${Drawing} scene=${a.closes} name=${s.t("checks.closes")} />`}
    <h2>${s.t("checks.watch")}</h2>${watch.value?.beams.map((b) => html`<${Watched} b=${b} />`)}
    <h2>${s.t("checks.order")}</h2><${Sheet} key=${ready.value} name="order" />
    <div class="pair"><a class="key" href=${net.paperPath(s.job.value!.id, "proof", s.language.value)} download>${s.t("checks.pdf")}</a><a class="key" href=${net.paperPath(s.job.value!.id, "sheets", s.language.value)} download>${s.t("files.sheets")}</a></div>`;
}

/** What the watch makes of a beam: its verdict, what to do, what may be out. */
function Watched({ b }: { b: Beam }) {
  return html`<section class=${b.numbers || b.ended ? "boxed" : "boxed caution"}><p><strong class="letter">${b.tag}</strong> ${b.head}</p>${b.do.map((one) => html`<p>${one}</p>`)}
    ${b.digs.map((one) => html`<p class="quiet">${one.told}</p>`)}${b.odds.map((one) => html`<p class="quiet">${one}</p>`)}${!b.ended && b.next.map((one) => html`<p>${one}</p>`)}</section>`;
}

const digs = (a: AsBuilt, value = "") => html`<option value="">${s.t("checks.wholeJob")}</option>${a.digs.map((one) => html`<option selected=${one.id === value}>${one.id}</option>`)}`;

/** Makes a record of what a form says; empty fields are left out. */
const record = (kind: string, done: string, more: Record<string, string> = {}) => async (e: SubmitEvent): Promise<void> => {
  e.preventDefault();
  const f = e.target as HTMLFormElement;
  const words: Record<string, string> = { ...more };
  for (const [key, v] of new FormData(f)) if (typeof v === "string" && v.trim() && key !== "picture") words[key] = v.trim();
  const picture = (f.elements.namedItem("picture") as HTMLInputElement | null)?.files?.[0];
  const made = await s.say(kind, words, done);
  if (!made) return;
  if (picture) {
    try {
      const { digest, size, media } = await net.putPhoto(picture, s.language.value);
      await s.say("photo", { of: made.id, digest, size: String(size), media, words: words["words"] ?? "", ...(words["dig"] ? { dig: words["dig"] } : {}) });
    } catch (error) { s.fail(error); }
  }
  f.reset();
};

function Over({ a }: { a: AsBuilt }) {
  const open: [BuiltDig, BuiltPoint][] = a.digs.flatMap((one) => one.points.filter((p) => p.size).map((p) => [one, p] as [BuiltDig, BuiltPoint]));
  return html`<h2>${s.t("checks.over")}</h2>${open.map(([one, p]) => html`<p class="caution"><strong>${one.id}</strong> ${p.label}: ${p.off}</p>`)}
    ${!open.length && !a.over.length && html`<p>${s.t("checks.noOver")}</p>`}
    ${a.over.map((o) => html`<p><strong>${o.dig}</strong> ${o.depth}: ${o.remedy || s.t("checks.noRemedy")} ${o.done ? s.t("checks.remedyIn") : s.t("checks.remedyOpen")} <span class="quiet">${o.who}</span></p>`)}
    <form class="boxed" onSubmit=${record("over_dig", s.t("checks.overKept"))}><h3>${s.t("checks.overNew")}</h3>
      <div class="pair"><label>${s.t("checks.dig")}<select name="dig" required>${a.digs.map((one) => html`<option selected=${one.id === open[0]?.[0].id}>${one.id}</option>`)}</select></label><label>${s.t("checks.depth")}<input name="depth" required value=${open[0]?.[1].size ?? ""} /></label></div>
      <label>${s.t("checks.remedy")}<input name="remedy" /></label>
      <label>${s.t("checks.isDone")}<select name="done"><option value="no">${s.t("form.no")}</option><option value="yes">${s.t("form.yes")}</option></select></label>
      <button class="key main">${s.t("checks.keep")}</button></form>
    <h2>${s.t("checks.order")}</h2><${Sheet} key=${ready.value} name="order" />`;
}

const asked = signal(""); // hold point that is being looked at

function Holds({ a }: { a: AsBuilt }) {
  return html`<h2>${s.t("checks.holds")}</h2><p class="quiet">${s.t("checks.holdsHint")}</p>
    <div class="wide" tabindex="0" role="region" aria-label=${s.t("checks.holds")}><table class="rows"><thead><tr><th scope="col">${s.t("checks.dig")}</th><th scope="col">${s.t("checks.hold")}</th><th scope="col">${s.t("checks.state")}</th><th scope="col">${s.t("checks.act")}</th></tr></thead><tbody>
    ${a.holds.map((h) => html`<tr><td>${h.dig}</td><td>${word(h.hold)}</td><td>${s.t(`checks.${h.state}`)} <span class="quiet">${h.by} ${h.agency}</span></td>
      <td><button class="small" aria-label=${`${s.t("checks.look")} ${h.dig} ${word(h.hold)}`} onClick=${() => { asked.value = `${h.dig}\n${h.hold}`; }}>${s.t("checks.look")}</button></td></tr>`)}</tbody></table></div>
    ${asked.value && html`<${HoldForm} key=${asked.value} />`}`;
}

function HoldForm() {
  const [dig, hold] = asked.value.split("\n") as [string, string];
  const send = (passed: string) => async (e: MouseEvent) => {
    const f = (e.target as HTMLElement).closest("form")!;
    if (!f.reportValidity()) return;
    const w = new FormData(f);
    const words: Record<string, string> = { dig, hold, by: String(w.get("by")).trim(), passed };
    for (const key of ["agency", "words"]) if (String(w.get(key) ?? "").trim()) words[key] = String(w.get(key)).trim();
    if (await s.say("hold", words, s.t("checks.holdKept", { dig, hold: word(hold) }))) asked.value = "";
  };
  return html`<form class="keys" onSubmit=${(e: Event) => e.preventDefault()}><h3>${dig}: ${word(hold)}</h3>
    <div class="pair"><label>${s.t("checks.by")}<input name="by" required /></label><label>${s.t("checks.agency")}<input name="agency" /></label></div>
    <label>${s.t("checks.words")}<input name="words" /></label>
    <div class="pair"><button type="button" class="key main" onClick=${send("yes")}>${s.t("checks.passed")}</button><button type="button" class="key" onClick=${send("no")}>${s.t("checks.refused")}</button></div>
    <button type="button" class="key" onClick=${() => { asked.value = ""; }}>${s.t("key.cancel")}</button></form>`;
}

function Extra({ a }: { a: AsBuilt }) {
  return html`<h2>${s.t("checks.extra")}</h2><p class="quiet">${s.t("checks.extraHint")}</p>
    ${a.tickets.map((t) => html`<section class="boxed"><p><strong>${word(t.for)}</strong> ${t.dig}: ${t.words}</p><p class="quiet">${t.hours && s.t("checks.hoursTold", { hours: t.hours })} ${t.before && s.t("checks.fromTo", { before: t.before, after: t.after || "–" })} ${t.who}</p>
      ${a.photos.filter((p) => p.of === t.id).map((p) => html`<img class="photo" src=${net.photoPath(p.digest)} alt=${p.words || t.words} />`)}</section>`)}
    <form class="boxed" onSubmit=${record("ticket", s.t("checks.ticketKept"))}><h3>${s.t("checks.ticketNew")}</h3>
      <div class="pair"><label>${s.t("checks.for")}<select name="for">${["rock", "water", "unsuitable", "waiting", "change", "other"].map((one) => html`<option value=${one}>${word(one)}</option>`)}</select></label><label>${s.t("checks.dig")}<select name="dig">${digs(a)}</select></label></div>
      <div class="three"><label>${s.t("checks.hours")}<input name="hours" inputmode="decimal" /></label><label>${s.t("checks.before")}<input name="before" inputmode="decimal" /></label><label>${s.t("checks.after")}<input name="after" inputmode="decimal" /></label></div>
      <label>${s.t("checks.words")}<input name="words" required /></label>
      <label>${s.t("checks.photo")}<input type="file" name="picture" accept="image/jpeg,image/png,image/webp" capture="environment" /></label>
      <button class="key main">${s.t("checks.keep")}</button></form>
    <h3>${s.t("checks.shotsBefore")}</h3>${a.digs.filter((one) => one.points.length).map((one) => html`<p>${one.id}: ${one.points.map((p) => `${p.label} ${p.height}`).join(" · ")}</p>`)}`;
}

function Left({ a }: { a: AsBuilt }) {
  return html`<h2>${s.t("checks.left")}</h2>${a.left && html`<p>${s.t("checks.lastLeft", { who: a.left })}</p>`}
    <${Sheet} key=${ready.value} name="left" />
    <form class="boxed" onSubmit=${record("handover", s.t("checks.handedOver"))}><h3>${s.t("checks.handOver")}</h3>
      <div class="pair"><label>${s.t("checks.ends")}<select name="ends"><option value="shift">${word("shift")}</option><option value="break">${word("break")}</option></select></label><label>${s.t("checks.to")}<input name="to" /></label></div>
      <label>${s.t("checks.words")}<input name="words" /></label><button class="key main">${s.t("checks.handOver")}</button></form>`;
}

function Sign({ a }: { a: AsBuilt }) {
  return html`<h2>${s.t("checks.sign")}</h2><p class="quiet">${s.t("checks.signHint")}</p>
    ${a.signed.map((l) => html`<p><strong>${l.person}</strong> ${l.day} ${l.time}: ${l.text}</p>`)}
    <form class="boxed" onSubmit=${record("sign_off", s.t("checks.signedOff"))}>
      <div class="pair"><label>${s.t("checks.role")}<input name="role" required value=${s.t("checks.foreman")} /></label><label>${s.t("checks.dig")}<select name="dig">${digs(a)}</select></label></div>
      <label>${s.t("checks.words")}<input name="words" required value=${s.t("checks.signWords")} /></label><button class="key main">${s.t("checks.signOff")}</button></form>
    <a class="key" href=${net.paperPath(s.job.value!.id, "proof", s.language.value)} download>${s.t("checks.pdf")}</a>`;
}
