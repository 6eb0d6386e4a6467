// Trouble: what happened is kept as a record; the log says what it voids.
import { closeKeys } from "./dig";
import { html } from "./html";
import * as s from "./state";
import type { Stand } from "./types";

const kinds = [
  ["laser_stopped", "trouble.stopped"], ["laser_dropped", "trouble.dropped"], ["battery", "trouble.battery"],
  ["machine_moved", "trouble.moved"], ["bucket_changed", "trouble.bucket"], ["water", "trouble.water"], ["rock", "trouble.rock"],
  ["unsuitable", "trouble.unsuitable"], ["exposed", "trouble.hit"], ["note", "trouble.note"],
] as const;

const atDig = ["water", "rock", "unsuitable", "exposed", "note"];

export function TroubleKeys({ d }: { d: Stand }) {
  const tell = async (kind: string, text: string) => {
    const words: Record<string, string> = atDig.includes(kind) ? { dig: d.dig } : {};
    if (kind === "note" || kind === "exposed") words["words"] = text;
    if (kind === "exposed") words["utility"] = "?";
    if (await s.say(kind, words)) closeKeys();
  };
  return html`<section class="keys"><p class="over">${s.t("trouble.title")}: ${s.t("trouble.what")}</p>
    <div class="grid">${kinds.map(([kind, key]) => html`<button class="key" onClick=${() => void tell(kind, s.t(key))}>${s.t(key)}</button>`)}</div>
    <button class="key" onClick=${closeKeys}>${s.t("key.cancel")}</button></section>`;
}
