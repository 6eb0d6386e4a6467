// Who, which language, and what is kept on the phone.
import { html } from "./html";
import { Name } from "./home";
import { Paper } from "./paper";
import * as s from "./state";
import { recordsOf } from "./storage";

/** Hands the records over as a file, a line each. */
async function save(): Promise<void> {
  const k = s.job.value;
  if (!k) return;
  const text = (await recordsOf(k.id)).map((r) => r.record).join("\n") + "\n";
  const a = document.createElement("a");
  a.href = URL.createObjectURL(new Blob([text], { type: "application/x-ndjson" }));
  a.download = `${k.id}.log.jsonl`;
  a.click();
  URL.revokeObjectURL(a.href);
}

export function MeScreen() {
  return html`<main><h1>${s.t("me.title")}</h1>
    <${Name} />
    <fieldset class="pair"><legend>${s.t("field.language")}</legend>
      <button class="key" aria-pressed=${s.language.value === "en"} lang="en" onClick=${() => void s.setLanguage("en")}>English</button>
      <button class="key" aria-pressed=${s.language.value === "es"} lang="es" onClick=${() => void s.setLanguage("es")}>Español</button></fieldset>
    <button class="key" aria-pressed=${s.dark.value} onClick=${() => void s.setDark(!s.dark.value)}>${s.t("field.dark")}</button>
    <section>
      ${s.ready.value && html`<p>${s.t("state.ready")}</p>`}
      ${s.persisted.value === false && html`<p class="caution">${s.t("state.persist")}</p>`}
      ${s.asides.value.length > 0 && html`<p class="caution">${s.t("state.asides", { count: s.asides.value.length })}</p><ul>${s.asides.value.map((r) => html`<li>${r.reason}</li>`)}</ul>`}
      <button class="key" onClick=${() => void save()}>${s.t("state.save")}</button>
      ${s.job.value && html`<${Paper} />`}
    </section></main>`;
}
