// A drawing under the map: a picture or a page of a PDF, laid by two points that
// are known on it and on the site.
import { signal } from "@preact/signals";
import { html } from "../html";
import * as net from "../net";
import * as s from "../state";
import * as d from "./draft";
import { map } from "./sitemap";

interface Shown { name: string; url: string; blob: Blob; width: number; height: number }
const shown = signal<Shown | undefined>();
const points = signal<[number, number][]>([]);
const big = signal(1);
const pages = signal(0);
const page = signal(1);
let pdf: Blob | undefined;

const mostSide = 4000; // pixels; a sheet of 36 in at 110 dots an inch

async function take(list: FileList | null): Promise<void> {
  const f = list?.[0];
  if (!f) return;
  points.value = [];
  pages.value = 0;
  pdf = undefined;
  try {
    if (f.type === "application/pdf" || f.name.toLowerCase().endsWith(".pdf")) {
      pdf = f;
      page.value = 1;
      await turn();
      return;
    }
    await show(f, f.name);
  } catch (error) { s.fail(error); }
}

interface Pages { pageOf: (data: ArrayBuffer, page: number, mostSide: number) => Promise<{ picture: Blob; pages: number }> }

/** Draws the page of the PDF that was chosen; the reader of PDFs comes only now. */
async function turn(): Promise<void> {
  s.working.value = s.t("under.reading");
  try {
    const reader = (await import(/* @vite-ignore */ pdfModule)) as Pages;
    const got = await reader.pageOf(await pdf!.arrayBuffer(), page.value, mostSide);
    pages.value = got.pages;
    await show(got.picture, `${(pdf as File).name} ${page.value}`);
  } catch (error) { s.fail(error); }
  s.working.value = "";
}

const pdfModule = "/pdf.js";

async function show(blob: Blob, name: string): Promise<void> {
  const image = await createImageBitmap(blob);
  if (shown.value) URL.revokeObjectURL(shown.value.url);
  shown.value = { name, url: URL.createObjectURL(blob), blob, width: image.width, height: image.height };
  points.value = [];
}

function tap(e: MouseEvent): void {
  const image = e.currentTarget as HTMLElement;
  const r = image.getBoundingClientRect();
  const at: [number, number] = [Math.round(((e.clientX - r.left) / r.width) * shown.value!.width), Math.round(((e.clientY - r.top) / r.height) * shown.value!.height)];
  points.value = points.value.length === 2 ? [at] : [...points.value, at];
}

async function lay(e: SubmitEvent): Promise<void> {
  e.preventDefault();
  const f = new FormData(e.target as HTMLFormElement);
  const w = (name: string) => String(f.get(name) ?? "").trim();
  const now = shown.value!;
  try {
    const { digest } = await net.putPhoto(now.blob, s.language.value);
    const known = [0, 1].map((i) => ({ on: [w(`right${i}`), w(`down${i}`)], at: [w(`east${i}`), w(`north${i}`)] }));
    let id = w("id");
    if (d.idsOf("underlay").includes(id)) id += " " + (d.idsOf("underlay").length + 1);
    if (await d.edit([{ kind: "add", table: "underlay", index: 0, value: { id, image: digest, size: [String(now.width), String(now.height)], known } }])) {
      shown.value = undefined;
      map.value = undefined; // shown whole next, with the drawing
      location.hash = "/plan";
      setTimeout(() => { s.notice.value = [s.t("under.laid", { name: id })]; }, 100); // going elsewhere clears what was told
    }
  } catch (error) { s.fail(error); }
}

export function UnderScreen() {
  const now = shown.value;
  return html`<h2>${s.t("under.title")}</h2><p class="quiet">${s.t("under.hint")}</p>
    ${d.tables("underlay").map((one, i) => html`<p><strong>${String(one["id"])}</strong> <button class="small" onClick=${() => void d.edit([{ kind: "drop", table: "underlay", index: i }])}>${s.t("form.drop")}</button></p>`)}
    <label class="key">${s.t("under.pick")}<input type="file" name="drawing" accept="image/png,image/jpeg,image/webp,application/pdf" onChange=${(e: Event) => void take((e.target as HTMLInputElement).files)} /></label>
    ${pages.value > 1 && html`<label>${s.t("under.page", { count: pages.value })}<input name="page" type="number" min="1" max=${pages.value} value=${page.value} onChange=${(e: Event) => { page.value = Number((e.target as HTMLInputElement).value); void turn(); }} /></label>`}
    ${now && html`<p>${s.t(points.value.length === 0 ? "under.first" : points.value.length === 1 ? "under.second" : "under.both")}</p>
      <div class="zoomrow">${[1, 2, 4].map((z) => html`<button class="small" aria-pressed=${big.value === z} onClick=${() => { big.value = z; }}>× ${z}</button>`)}</div>
      <div class="under" tabindex="0" role="region" aria-label=${now.name}><div class=${`sheetpage z${big.value}`} onClick=${tap}><img src=${now.url} alt=${now.name} />
        <svg viewBox=${`0 0 ${now.width} ${now.height}`} aria-hidden="true">${points.value.map(([x, y], i) => html`<g><circle cx=${x} cy=${y} r=${now.width / 90} /><text x=${x + now.width / 70} y=${y} font-size=${now.width / 30}>${i + 1}</text></g>`)}</svg></div></div>
      <form onSubmit=${lay}><label>${s.t("under.name")}<input name="id" required value=${String(d.tables("job")[0]?.["drawing"] ?? "") || now.name} /></label>
      ${[0, 1].map((i) => html`<fieldset class="sub"><legend>${s.t("under.point", { number: i + 1 })}</legend><div class="four">
        <label>${s.t("form.right")}<input name=${`right${i}`} inputmode="decimal" required value=${points.value[i]?.[0] ?? ""} /></label><label>${s.t("form.down")}<input name=${`down${i}`} inputmode="decimal" required value=${points.value[i]?.[1] ?? ""} /></label>
        <label>${s.t("set.east")}<input name=${`east${i}`} required /></label><label>${s.t("set.north")}<input name=${`north${i}`} required /></label></div></fieldset>`)}
      <button class="key main">${s.t("under.lay")}</button></form>`}`;
}
