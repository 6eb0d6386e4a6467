// A lost race: theirs is told, both versions are kept to choose from.
import { html } from "../html";
import * as s from "../state";
import * as d from "./draft";
import { told } from "./forms";

export function RaceScreen() {
  const r = d.race.value;
  if (!r) return html`<p>${s.t("race.none")}</p>`;
  return html`<section class="stop"><h2>${s.t("race.title")}</h2>
      <p>${s.t("race.theirs", { revision: r.theirs.revision, person: r.theirs.person, time: s.clock(r.theirs.saved), base: d.draft.value!.base })}</p><p>${s.t("race.kept")}</p></section>
    <h2>${s.t("race.differ", { count: r.differences.length })}</h2>
    <div class="wide" tabindex="0" role="region" aria-label=${s.t("race.differ", { count: r.differences.length })}><table class="rows"><thead><tr><th scope="col">${s.t("race.what")}</th><th scope="col">${s.t("race.mine")}</th><th scope="col">${s.t("race.other")}</th></tr></thead>
      <tbody>${r.differences.map((one) => html`<tr><td>${one.table ? `${told(one.table)[0]}${one.id ? " " + one.id : ""}: ${told(`${one.table}.${one.key}`)[0]}` : one.id}</td><td>${one.mine || s.t("race.absent")}</td><td>${one.theirs || s.t("race.absent")}</td></tr>`)}</tbody></table></div>
    <button class="key main" onClick=${() => void d.takeTheirs().then(() => { location.hash = "/plan"; })}>${s.t("race.takeTheirs", { revision: r.theirs.revision })}</button>
    <button class="key" onClick=${() => void d.putMine().then(() => { if (!d.race.value) location.hash = "/plan"; })}>${s.t("race.putMine", { revision: r.theirs.revision + 1 })}</button>
    <p class="quiet">${s.t("race.putHint", { revision: r.theirs.revision })}</p>`;
}
