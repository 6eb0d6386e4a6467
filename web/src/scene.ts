// Draws a display list of the engine as SVG. Colours and widths are classes, so
// that the dark cab has its own.
import { html } from "./html";
import type { Item, Scene } from "./types";

function path(it: Item): string {
  let d = "";
  for (let i = 0; i + 1 < it.points.length; i += 2) d += `${i ? "L" : "M"}${it.points[i]} ${it.points[i + 1]}`;
  return it.closed ? d + "Z" : d;
}

const fills = ["hollow", "tint", "solid"];

function item(it: Item) {
  if (!it.text) return html`<path class=${`p-${it.pen} ${fills[it.fill ?? 0]}`} d=${path(it)} />`;
  const [x, y] = it.points;
  return html`<text class=${`t-${it.pen}${it.strong ? " strong" : ""}`} x=${x} y=${y} font-size=${it.size} text-anchor=${it.anchor ?? "start"}
    transform=${it.upward ? `rotate(-90 ${x} ${y})` : undefined}>${it.text}</text>`;
}

/** A drawing with its name for those who do not see it. */
export function Drawing({ scene, name, plan = false }: { scene: Scene; name: string; plan?: boolean }) {
  return html`<svg class=${plan ? "drawing plan" : "drawing"} role="img" aria-label=${name} viewBox=${`0 0 ${scene.width} ${scene.height}`}>${scene.items.map(item)}</svg>`;
}
