// The checker's page: what is left, what was shot, volumes, what the rules find.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask } from "./bridge";
import { html } from "./html";
import * as s from "./state";
import type { Checked, Found, Left, Quantities } from "./types";

const all = signal<{ left: Left; check: Checked; quantities: Quantities; findings: Found[] } | undefined>();

async function load(): Promise<void> {
  try {
    all.value = { left: await ask<Left>("left"), check: await ask<Checked>("check"), quantities: await ask<Quantities>("quantities"), findings: await ask<Found[]>("findings") };
  } catch (error) { s.fail(error); }
}

function Shots({ check }: { check: Checked }) {
  return html`<section><h2>${s.t("check.shots")}</h2>
    ${check.points.length === 0 && html`<p class="quiet">${s.t("check.none")}</p>`}
    <ul class="plain">${check.points.map((p) => html`<li class="dig"><span class="what"><strong>${p.dig}</strong> ${p.point} <span class="quiet">${p.shot.told}${p.chance ? " · " + s.t("check.in", { chance: p.chance }) : ""}</span></span>
      <span class="figure">${p.shot.text}</span></li>`)}</ul></section>`;
}

function Volumes({ q }: { q: Quantities }) {
  const row = (r: Quantities["total"], name: string) => html`<tr><th scope="row">${name}</th><td>${r.bank}</td><td>${r.loose}</td><td>${r.concrete}</td><td>${r.backfill}</td></tr>`;
  return html`<section><h2>${s.t("check.volumes")}</h2>${q.needs && html`<p class="caution">${q.needs}</p>`}
    ${q.digs.length > 0 && html`<div class="wide" tabindex="0" role="region" aria-label=${s.t("check.volumes")}><table class="log"><thead><tr><td></td><th scope="col">${s.t("check.bank")}</th><th scope="col">${s.t("check.loose")}</th><th scope="col">${s.t("check.concrete")}</th><th scope="col">${s.t("check.backfill")}</th></tr></thead>
      <tbody>${q.digs.map((r) => row(r, r.dig))}${row(q.total, s.t("check.total"))}</tbody></table></div>`}
    ${q.loads && html`<p>${s.t("check.loads", { count: q.loads })}</p>`}</section>`;
}

export function CheckScreen() {
  const head = s.home.value?.basis.head;
  useEffect(() => { void load(); }, [head, s.language.value]);
  const a = all.value;
  const list = (key: "check.good" | "check.open" | "check.noShot", ids: string[]) => ids.length > 0 && html`<p>${s.t(key)}: ${ids.join(", ")}</p>`;
  return html`<main><h1>${s.t("check.title")}</h1>${a && html`
    <section><h2>${s.t("check.left")}</h2>${list("check.noShot", a.left.no_shot)}${list("check.open", a.left.open)}${list("check.good", a.left.good)}
      ${a.left.due.map((d) => html`<p>${d.text}</p>`)}${a.left.handed && html`<p class="quiet">${a.left.handed}</p>`}</section>
    <${Shots} check=${a.check} /><${Volumes} q=${a.quantities} />
    <section><h2>${s.t("check.findings")} (${a.findings.length})</h2>${a.findings.map((f) => html`<p class="caution">${f.dig && html`<strong>${f.dig}</strong> `}${f.text}</p>`)}</section>`}</main>`;
}
