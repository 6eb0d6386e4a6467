// The site plan.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask } from "./bridge";
import { html } from "./html";
import { Drawing } from "./scene";
import * as s from "./state";
import type { Scene } from "./types";

const scene = signal<Scene | undefined>();

export function MapScreen() {
  const head = s.home.value?.basis;
  useEffect(() => { void ask<{ scene: Scene }>("map").then((m) => { scene.value = m.scene; }, s.fail); }, [head?.head, s.language.value]);
  return html`<main><h1>${s.t("map.title")}</h1>${scene.value && html`<${Drawing} plan=${true} scene=${scene.value} name=${s.t("map.title")} />`}</main>`;
}
