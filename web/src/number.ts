// The number of the moment, its fraction stacked.
import { html } from "./html";
import type { Figure } from "./types";

/** A figure, large or in a line. A planned one is drawn hollow. */
export function Num({ figure, large = false }: { figure: Figure; large?: boolean }) {
  // As the type grows with the width that is there, long numbers are set smaller.
  const long = figure.state === "planned" ? " sum" : figure.before.length + (figure.over ? 2 : 0) > 6 ? " long" : "";
  return html`<span class=${`number${large ? " large" : ""}${long} ${figure.state}`} role="img" aria-label=${figure.text}>
    <span aria-hidden="true">${figure.before}${figure.over && html`<span class="fraction"><span>${figure.over}</span><span>${figure.under}</span></span>`}${figure.after}</span>
  </span>`;
}
