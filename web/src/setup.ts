// "I have set the laser here": worked out first, then kept.
import { signal } from "@preact/signals";
import { html } from "./html";
import { Name } from "./home";
import { ask } from "./bridge";
import { num, sum } from "./number";
import { TapMap, Tapes } from "./place";
import { Drawing } from "./scene";
import * as s from "./state";
import type { Reach, SetUp, Spot } from "./types";

const spot = signal<Spot | undefined>();
const reach = signal<Reach | undefined>();
const sensor = signal(false);
const result = signal<{ args: Record<string, unknown>; made: SetUp } | undefined>();

/** Set-ups that the job tells as read but that the log does not have. */
function Drawn({ tag }: { tag: string }) {
  const drawn = s.home.value!.tags.filter((t) => t.state === "drawn" && (!tag || t.tag === tag));
  return html`${drawn.map((t) => html`<section class="boxed"><p><strong class="letter">${t.tag}</strong> ${t.rests}</p><p>${s.t("set.asHint", { tag: t.tag })}</p>
    <button class="key main" onClick=${async () => { if (await s.say("setup", { tag: t.tag })) { s.held.value = t.tag; location.hash = "/after/" + encodeURIComponent(t.tag); } }}>${s.t("set.as", { tag: t.tag })}</button></section>`)}`;
}

const options = (list: string[]) => list.map((id) => html`<option>${id}</option>`);

async function work(e: SubmitEvent): Promise<void> {
  e.preventDefault();
  const f = new FormData(e.target as HTMLFormElement);
  const word = (name: string) => String(f.get(name) ?? "").trim();
  const sights = [{ benchmark: word("benchmark"), reading: word("reading") }];
  if (word("reading2")) sights.push({ benchmark: word("benchmark2"), reading: word("reading2") });
  const args = { tag: word("tag"), laser: word("laser"), rod: word("rod"), receiver: "", east: word("east"), north: word("north"), sights };
  try {
    s.working.value = s.t("state.planning");
    result.value = { args, made: await s.trySetUp(args) };
    s.fault.value = "";
  } catch (error) { s.fail(error); }
  s.working.value = "";
}

function Form({ tag }: { tag: string }) {
  const c = s.home.value!.choices;
  const proposed = c.proposed.find((p) => p.tag === tag) ?? c.proposed[0];
  return html`<form class="form" onSubmit=${work}>
    <h2>${s.t("set.new")}</h2>
    ${c.proposed.map((p) => html`<p class="boxed">${s.t("set.proposed")}: <strong class="letter">${p.tag}</strong> ${p.where} ${p.rests}</p>`)}
    <label>${s.t("set.tag")}<input name="tag" required maxlength="20" value=${proposed?.tag ?? c.tag} /></label>
    <label>${s.t("set.laser")}<select name="laser">${options(c.lasers)}</select></label>
    <label>${s.t("set.rod")}<select name="rod">${options(c.rods)}</select></label>
    <div class="pair"><label>${s.t("set.east")}<input name="east" required inputmode="decimal" value=${spot.value?.east ?? proposed?.east ?? ""} /></label>
    <label>${s.t("set.north")}<input name="north" required inputmode="decimal" value=${spot.value?.north ?? proposed?.north ?? ""} /></label></div>
    <${TapMap} chosen=${spot} /><${Tapes} chosen=${spot} />
    <button type="button" class="key" onClick=${() => { sensor.value = true; }}>${s.t("place.sensor")}</button>
    ${sensor.value && html`<p class="caution">${s.t("place.noGrid")}</p>`}
    <div class="pair"><label>${s.t("set.benchmark")}<select name="benchmark">${options(c.benchmarks)}</select></label>
    <label>${s.t("set.reading")}<input name="reading" required autocomplete="off" /></label></div>
    ${c.benchmarks.length > 1 && html`<div class="pair"><label>${s.t("set.second")}<select name="benchmark2">${options(c.benchmarks.slice(1))}</select></label>
    <label>${s.t("set.reading")}<input name="reading2" autocomplete="off" /></label></div>`}
    <button class="key main">${s.t("set.work")}</button>
  </form>`;
}

function Result() {
  const { args, made } = result.value!;
  const tag = String(args["tag"]);
  return html`<section class="boxed"><h2><span class="letter">${tag}</span> HI ${made.hi}</h2>
    ${made.sigma && html`<p>${s.t("set.sigma", { sigma: made.sigma })}.</p>`}
    <p>${s.t("set.serves", { digs: made.serves.join(", ") || "–" })}.</p>
    ${made.notes.map((n) => html`<p class="caution">${n}</p>`)}
    <h2>${s.t("set.strip")}</h2>
    <table class="log"><tbody>${made.strip.map((c) => html`<tr><td>${c.for}</td><td class="figure">${num(c)}</td></tr>`)}</tbody></table>
    <div class="pair"><button class="key main" onClick=${async () => {
      if (await s.keep(() => s.trySetUp(args))) { result.value = undefined; spot.value = undefined; s.held.value = tag; location.hash = "/after/" + encodeURIComponent(tag); }
    }}>${s.t("set.keep", { tag })}</button>
    <button class="key" onClick=${() => { result.value = undefined; }}>${s.t("key.cancel")}</button></div></section>`;
}

/** How much each place serves, beside what the plan proposes. */
function Reception() {
  const open = async (e: Event) => {
    if (!(e.target as HTMLDetailsElement).open || reach.value) return;
    try { reach.value = await ask<Reach>("reach"); } catch (error) { s.fail(error); }
  };
  const r = reach.value;
  return html`<details onToggle=${open}><summary>${s.t("set.reach")}</summary>
    ${!r && html`<p class="quiet">${s.t("state.planning")}</p>`}
    ${r?.needs && html`<p class="caution">${r.needs}</p>`}
    ${r?.scene && html`<${Drawing} plan=${true} scene=${r.scene} name=${s.t("set.reach")} />`}
    ${r?.proposed.map((p) => html`<section class="boxed"><p><strong class="letter">${p.tag}</strong> ${p.where} ${p.rests}</p>
      <table class="log"><tbody>${p.strip.map((one) => html`<tr><td>${one.planned.for}</td><td class="figure">${sum(one.planned)}</td></tr>`)}</tbody></table></section>`)}</details>`;
}

export function SetUpScreen({ tag }: { tag: string }) {
  return html`<main><h1>${s.t("set.title")}</h1>
    ${!s.person.value && html`<${Name} />`}
    ${result.value ? html`<${Result} />` : html`<${Drawn} tag=${tag} /><${Form} tag=${tag} key=${tag} /><${Reception} />`}</main>`;
}
