// The number of the moment, its fraction stacked. These are functions and no
// components, so that their types are checked where they are used.
import { html } from "./html";
import type { Face, Planned, Worked } from "./types";

function written(face: Face) {
  return html`<span aria-hidden="true">${face.before}${face.over && html`<span class="fraction"><span>${face.over}</span><span>${face.under}</span></span>`}${face.after}</span>`;
}

/** The face of a number that may be dug to, if there is one. A planned number has none. */
export const faceOf = (w: Worked): Face | undefined => (w.live ?? w.taped)?.face;

/** A number that may be dug to, large or in a line; a dash where there is none. */
export function num(w: Worked, large = false) {
  const face = faceOf(w);
  if (!face) return "–";
  // As the type grows with the width that is there, long numbers are set smaller.
  const long = face.before.length + (face.over ? 2 : 0) > 6 ? " long" : "";
  return html`<span class=${`number${large ? " large" : ""}${long} ${w.live ? "live" : "taped"}`} role="img" aria-label=${face.text}>${written(face)}</span>`;
}

/** The sum that today's height goes into, drawn hollow. */
export function sum(p: Planned) {
  return html`<span class="number planned">${p.sum}</span>`;
}
