// The map: the engine draws the window, the page moves it under finger, wheel and
// keys and asks for the next one. Where things lie is the engine's to say.
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { html } from "../html";
import { photoPath } from "../net";
import * as s from "../state";
import type { Item } from "../types";
import { ask, planCount } from "./draft";
import type { Picked, SiteMap, View } from "./types";

/** Style sheet pixels a millimetre (CSS Values 4: 96 an inch). */
const perMM = 96 / 25.4;

export const map = signal<SiteMap | undefined>();
/** Places tapped while a dig is drawn, in millimetres of the window. */
export const taps = signal<[number, number][]>([]);
export const underShown = signal(true);

const pictures = new Map<string, HTMLImageElement>();

/** The picture of a drawing, undefined till it is here. */
function picture(digest: string, ready: () => void): HTMLImageElement | undefined {
  let one = pictures.get(digest);
  if (!one) {
    one = new Image();
    one.onload = ready;
    one.src = photoPath(digest);
    pictures.set(digest, one);
  }
  return one.complete && one.naturalWidth ? one : undefined;
}

const colours: Record<string, string> = { beam: "--beam", ray: "--beam", reach: "--beam", caution: "--care", fine: "--soft", grid: "--soft", leader: "--soft", band: "--soft", planned: "--soft", earth: "--earth", ground: "--earth" };
const dashes: Record<string, number[]> = { neat: [1.5, 1], planned: [1, 0.8], service: [3, 1], zone: [3, 1], caution: [2, 1], reach: [0.8, 1.2], ray: [4, 1.2, 0.6, 1.2] };
const widths: Record<string, number> = { fine: 0.18, grid: 0.18, leader: 0.18, earth: 0.2, band: 0.2, reach: 0.25, neat: 0.3, beam: 0.4, bottom: 0.45, ground: 0.5, dug: 0.5 };

interface Moving { x: number; y: number; zoom: number; right: number; down: number }
const still: Moving = { x: 0, y: 0, zoom: 1, right: 0, down: 0 };

function paint(c: HTMLCanvasElement, m: SiteMap, by: Moving, marks: [number, number][], again: () => void): void {
  const g = c.getContext("2d")!;
  const dots = devicePixelRatio * perMM;
  const style = getComputedStyle(c);
  const ink = (pen: string) => style.getPropertyValue(colours[pen] ?? "--ink");
  g.setTransform(1, 0, 0, 1, 0, 0);
  g.fillStyle = style.getPropertyValue("--paper");
  g.fillRect(0, 0, c.width, c.height);
  const frame = () => {
    g.setTransform(dots, 0, 0, dots, 0, 0);
    g.translate(by.x, by.y);
    g.scale(by.zoom, by.zoom);
    g.translate(by.right - by.x, by.down - by.y);
  };
  frame();
  if (underShown.value) {
    for (const u of m.under) {
      const image = picture(u.image, again);
      if (!image) continue;
      g.save();
      g.globalAlpha = 0.55;
      g.transform(...u.matrix);
      g.drawImage(image, 0, 0, u.width, u.height);
      g.restore();
    }
  }
  for (const it of m.scene.items) stroke(g, it, ink, style.getPropertyValue("--tint"), m.under.length > 0 && underShown.value);
  g.setLineDash([]);
  g.strokeStyle = g.fillStyle = style.getPropertyValue("--accent");
  g.lineWidth = 0.5;
  marks.forEach(([x, y], i) => {
    g.beginPath();
    g.arc(x, y, 1.4, 0, 7);
    g.stroke();
    if (i) { g.beginPath(); g.moveTo(...marks[i - 1]!); g.lineTo(x, y); g.stroke(); }
  });
}

function stroke(g: CanvasRenderingContext2D, it: Item, ink: (pen: string) => string, tint: string, under: boolean): void {
  if (it.text) {
    g.font = `${it.strong ? "700 " : ""}${it.size}px system-ui, "DejaVu Sans", sans-serif`;
    g.textAlign = it.anchor === "middle" ? "center" : it.anchor === "end" ? "right" : "left";
    g.save();
    g.translate(it.points[0]!, it.points[1]!);
    if (it.upward) g.rotate(-Math.PI / 2);
    g.lineWidth = 0.7;
    g.setLineDash([]);
    g.lineJoin = "round";
    g.strokeStyle = getComputedStyle(g.canvas).getPropertyValue("--paper");
    g.strokeText(it.text, 0, 0);
    g.fillStyle = ink(it.pen);
    g.fillText(it.text, 0, 0);
    g.restore();
    return;
  }
  g.beginPath();
  for (let i = 0; i + 1 < it.points.length; i += 2) g[i ? "lineTo" : "moveTo"](it.points[i]!, it.points[i + 1]!);
  if (it.closed) g.closePath();
  if (it.fill === 2) { g.fillStyle = ink(it.pen); g.fill(); }
  if (it.fill === 1 && !under) { g.fillStyle = tint; g.fill(); }
  g.strokeStyle = ink(it.pen);
  g.lineWidth = widths[it.pen] ?? 0.35;
  g.setLineDash(dashes[it.pen] ?? []);
  g.stroke();
}

export interface MapProps { shots?: boolean; drawing?: boolean; picked: (p: Picked) => void; tapped?: () => void }

/** A map that is moved by finger, wheel and keys. */
export function SiteMapView({ shots = false, drawing = false, picked, tapped }: MapProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const by = useRef<Moving>({ ...still });
  const fingers = useRef(new Map<number, [number, number]>());
  const moved = useRef(false);
  const busy = useRef(false);

  const draw = () => { if (canvas.current && map.value) paint(canvas.current, map.value, by.current, drawing ? taps.value : [], draw); };
  const size = () => {
    const c = canvas.current!, r = c.getBoundingClientRect();
    const w = Math.round(r.width * devicePixelRatio), h = Math.round(r.height * devicePixelRatio);
    if (c.width !== w || c.height !== h) { c.width = w; c.height = h; }
    return { width: r.width / perMM, height: r.height / perMM };
  };
  /** Asks for the window that the move comes to. */
  const settle = async (whole = false) => {
    if (!canvas.current || busy.current) return;
    busy.current = true;
    const m = by.current, at = size();
    const view: View = map.value && !whole ? { ...map.value.view, ...at } : { east: 0, north: 0, scale: 0, ...at };
    try {
      const next = await ask<SiteMap>("site", { view, right: m.right, down: m.down, zoom: m.zoom, x: m.x, y: m.y, shots });
      map.value = next;
      if (by.current === m) by.current = { ...still };
    } catch (error) { s.fail(error); }
    busy.current = false;
    draw();
    if (by.current.zoom !== 1 || by.current.right || by.current.down) void settle();
  };

  useEffect(() => { void settle(!map.value); }, [planCount.value, s.language.value, shots]);
  useEffect(draw, [map.value, taps.value, s.dark.value, underShown.value, drawing]);
  useEffect(() => {
    const watch = new ResizeObserver(() => void settle());
    watch.observe(canvas.current!);
    return () => watch.disconnect();
  }, []);

  const at = (e: PointerEvent | WheelEvent): [number, number] => {
    const r = canvas.current!.getBoundingClientRect();
    return [(e.clientX - r.left) / perMM, (e.clientY - r.top) / perMM];
  };
  const zoom = (factor: number, x: number, y: number) => {
    taps.value = [];
    by.current = { ...by.current, x, y, zoom: by.current.zoom * factor };
    draw();
    void settle();
  };
  const down = (e: PointerEvent) => {
    canvas.current!.setPointerCapture(e.pointerId);
    if (!fingers.current.size) moved.current = false;
    fingers.current.set(e.pointerId, at(e));
  };
  const move = (e: PointerEvent) => {
    const before = fingers.current.get(e.pointerId);
    if (!before) return;
    const now = at(e);
    const other = [...fingers.current].find(([id]) => id !== e.pointerId)?.[1];
    if (!moved.current && !other && Math.abs(now[0] - before[0]) + Math.abs(now[1] - before[1]) < 1.2) return;
    moved.current = true;
    taps.value = [];
    if (other) {
      const far = (p: [number, number]) => Math.sqrt((p[0] - other[0]) ** 2 + (p[1] - other[1]) ** 2) || 1;
      by.current = { ...by.current, x: other[0], y: other[1], zoom: (by.current.zoom * far(now)) / far(before) };
    } else {
      by.current = { ...by.current, right: by.current.right + (now[0] - before[0]) / by.current.zoom, down: by.current.down + (now[1] - before[1]) / by.current.zoom };
    }
    fingers.current.set(e.pointerId, now);
    draw();
  };
  const up = (e: PointerEvent) => {
    const here = fingers.current.get(e.pointerId);
    fingers.current.delete(e.pointerId);
    if (fingers.current.size || !here) return;
    if (moved.current) { void settle(); return; }
    if (drawing) { taps.value = [...taps.value, here]; tapped?.(); return; }
    if (map.value) void ask<Picked>("pick", { view: map.value.view, x: here[0], y: here[1] }).then(picked, s.fail);
  };
  const key = (e: KeyboardEvent) => {
    const v = map.value?.view;
    if (!v) return;
    const step = { ArrowLeft: [v.width / 5, 0], ArrowRight: [-v.width / 5, 0], ArrowUp: [0, v.height / 5], ArrowDown: [0, -v.height / 5] }[e.key];
    if (step) { by.current = { ...by.current, right: by.current.right + step[0]!, down: by.current.down + step[1]! }; taps.value = []; void settle(); }
    else if (e.key === "+" || e.key === "=") zoom(1.5, v.width / 2, v.height / 2);
    else if (e.key === "-") zoom(1 / 1.5, v.width / 2, v.height / 2);
    else if (e.key === "0") { taps.value = []; void settle(true); }
    else return;
    e.preventDefault();
  };
  const middle = (factor: number) => { const v = map.value?.view; if (v) zoom(factor, v.width / 2, v.height / 2); };
  return html`<div class="site">
    <canvas ref=${canvas} tabindex="0" role="img" aria-label=${s.t("plan.mapName")}
      onPointerDown=${down} onPointerMove=${move} onPointerUp=${up} onPointerCancel=${up} onKeyDown=${key}
      onWheel=${(e: WheelEvent) => { e.preventDefault(); zoom(e.deltaY < 0 ? 1.2 : 1 / 1.2, ...at(e)); }}></canvas>
    <div class="zoom"><button class="small" aria-label=${s.t("plan.closer")} onClick=${() => middle(1.5)}>+</button><button class="small" aria-label=${s.t("plan.farther")} onClick=${() => middle(1 / 1.5)}>−</button>
      <button class="small" aria-label=${s.t("plan.whole")} onClick=${() => { taps.value = []; void settle(true); }}>⤢</button>
      ${(map.value?.under.length ?? 0) > 0 && html`<button class="small" aria-pressed=${underShown.value} aria-label=${s.t("plan.underShown")} onClick=${() => { underShown.value = !underShown.value; }}>▤</button>`}</div>
  </div>`;
}
