// Sheets of the engine as parts of the page.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { html } from "../html";
import * as s from "../state";
import { ask, planCount } from "./draft";
import type { Block, Paper } from "./types";

function block(b: Block) {
  switch (b.kind) {
    case "title": return html`<p class="quiet">${b.text}</p>`;
    case "heading": return html`<h3>${b.text}</h3>`;
    case "detail": return html`<p class="detail">${b.text}</p>`;
    case "finding": return html`<p class=${b.severity === "stop" ? "stop" : "caution"}>${b.text}</p>`;
    case "table": return html`<${Rows} table=${b.table!} />`;
  }
  return html`<p>${b.text}</p>`;
}

/** A table with its heads; wide ones scroll by themselves. */
export function Rows({ table }: { table: NonNullable<Block["table"]> }) {
  const heads = table.heads.some((h) => h.text);
  return html`<div class="wide" tabindex="0" role="region" aria-label=${table.heads.map((h) => h.text).filter(Boolean).join(", ") || s.t("plan.table")}><table class="rows">
    ${heads && html`<thead><tr>${table.heads.map((h) => (h.text ? html`<th scope="col" class=${h.right ? "right" : ""}>${h.text}</th>` : html`<td></td>`))}</tr></thead>`}
    <tbody>${table.rows.map((row, i) => html`<tr class=${table.planned?.includes(i) ? "planned" : ""}>${row.map((cell, n) => html`<td class=${table.heads[n]?.right ? "right" : ""}>${cell}</td>`)}</tr>`)}</tbody>
  </table></div>`;
}

export const Blocks = ({ paper }: { paper: Paper }) => html`<div class="paper">${paper.blocks.map(block)}</div>`;

/** A sheet by its name, drawn anew with every plan. */
export function Sheet({ name, dig = "" }: { name: string; dig?: string }) {
  const shown = useSheet(name, dig);
  return shown ? html`<${Blocks} paper=${shown} />` : html`<p class="quiet">…</p>`;
}

const sheets = signal<Record<string, Paper>>({});

export function useSheet(name: string, dig: string): Paper | undefined {
  const key = `${name} ${dig}`;
  useEffect(() => {
    void ask<Paper>("paper", { name, dig }).then((p) => { sheets.value = { ...sheets.value, [key]: p }; }, s.fail);
  }, [key, planCount.value, s.language.value]);
  return sheets.value[key];
}
