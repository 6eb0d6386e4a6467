// Where the laser stands: a tap on the map, two tapes, or what the phone senses.
import { type Signal, signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, Fault } from "./bridge";
import { html } from "./html";
import { Drawing } from "./scene";
import * as s from "./state";
import type { Places, Scene, Spot } from "./types";

const scene = signal<Scene | null>(null);

/** A map that a tap puts a place on. */
export function TapMap({ chosen }: { chosen: Signal<Spot | undefined> }) {
  useEffect(() => { void ask<{ scene: Scene }>("map").then((m) => { scene.value = m.scene; }, s.fail); }, [s.language.value]);
  const tap = async (e: MouseEvent) => {
    const svg = e.currentTarget as SVGSVGElement;
    const box = svg.querySelector("svg")!.getBoundingClientRect();
    const view = scene.value!;
    try {
      const p = await ask<Places>("tapped", { x: ((e.clientX - box.left) / box.width) * view.width, y: ((e.clientY - box.top) / box.height) * view.height });
      scene.value = p.scene;
      chosen.value = p.spots[0];
    } catch (error) { s.fail(error); }
  };
  return html`<details class="tapmap"><summary>${s.t("place.map")}</summary>
    ${scene.value && html`<div onClick=${tap}><${Drawing} plan=${true} scene=${scene.value} name=${s.t("map.title")} /></div>`}
    ${chosen.value && html`<p>${chosen.value.where}</p>`}</details>`;
}

const found = signal<Places | undefined>();
const wrong = signal("");

/** Two distances from known points; the person says which of the two places it is. */
export function Tapes({ chosen }: { chosen: Signal<Spot | undefined> }) {
  const known = s.home.value!.choices.known;
  const options = (list: string[]) => list.map((id) => html`<option>${id}</option>`);
  if (known.length < 2) return null;
  const work = async (e: Event) => {
    const f = new FormData((e.target as HTMLElement).closest("form")!);
    const one = (n: number) => ({ point: String(f.get("from" + n)), length: String(f.get("tape" + n)).trim() });
    wrong.value = "";
    found.value = undefined;
    try { found.value = await ask<Places>("taped", { a: one(1), b: one(2) }); } catch (error) {
      if (error instanceof Fault) wrong.value = `${error.told.message} ${error.told.remedy}`; else s.fail(error);
    }
  };
  return html`<details><summary>${s.t("place.tapes")}</summary>
    ${[1, 2].map((n) => html`<div class="pair"><label>${s.t("place.from")}<select name=${"from" + n}>${options(n === 1 ? known : known.slice(1))}</select></label>
      <label>${s.t("place.distance")}<input name=${"tape" + n} autocomplete="off" /></label></div>`)}
    <button type="button" class="key" onClick=${work}>${s.t("place.find")}</button>
    ${wrong.value && html`<p class="caution">${wrong.value}</p>`}
    ${found.value && html`<p>${s.t("place.which")}</p><${Drawing} plan=${true} scene=${found.value.scene!} name=${s.t("place.which")} />
      <div class="pair">${found.value.spots.map((spot) => html`<button type="button" class="key" aria-pressed=${chosen.value?.east === spot.east && chosen.value?.north === spot.north} onClick=${() => { chosen.value = spot; }}>${spot.name}: ${spot.where}</button>`)}</div>`}
  </details>`;
}
