// A close: the rod read back on a hard point.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask } from "./bridge";
import { html } from "./html";
import { Name } from "./home";
import { Pad } from "./shot";
import * as s from "./state";
import type { Close } from "./types";

const closes = signal<Close[] | undefined>();
const point = signal<Close | undefined>();
const reading = signal<string | undefined>();

export function CloseScreen({ tag }: { tag: string }) {
  useEffect(() => {
    point.value = undefined;
    reading.value = "";
    void ask<Close[]>("closes", { tag }).then((list) => { closes.value = list; }, s.fail);
  }, [tag]);
  const list = closes.value ?? [];
  return html`<main><h1>${s.t("close.title", { tag })}</h1>
    ${!s.person.value && html`<${Name} />`}
    <p>${s.t("close.why")}</p>
    ${closes.value && list.length === 0 && html`<p class="caution">${s.t("close.none", { tag })}</p>`}
    <div class="grid">${list.map((c) => html`<button class="key" aria-pressed=${point.value?.point === c.point} onClick=${() => { point.value = c; }}>
      <strong>${c.point}</strong><br />${s.t("close.expected", { reading: c.expected })}</button>`)}</div>
    ${point.value && html`<section class="keys"><p class="over">${s.t("close.reading", { point: point.value.point })}</p>
      <${Pad} value=${reading} done=${async () => {
        const p = point.value!;
        if (await s.say("close", { tag, point: p.point, reading: reading.value ?? "" })) { reading.value = ""; point.value = undefined; }
      }} leave=${() => { point.value = undefined; }} /></section>`}
  </main>`;
}
