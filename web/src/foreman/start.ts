// The first job of an empty server, begun on the page.
import { signal } from "@preact/signals";
import { html } from "../html";
import * as s from "../state";
import { newJob } from "./draft";

const busy = signal(false);

async function begin(e: SubmitEvent): Promise<void> {
  e.preventDefault();
  const f = new FormData(e.target as HTMLFormElement);
  busy.value = true;
  s.fault.value = "";
  try {
    await s.setPerson(String(f.get("person")).trim());
    await newJob(String(f.get("jobname")).trim(), String(f.get("units")));
  } catch (error) { s.fail(error); }
  busy.value = false;
}

export function NewJob() {
  return html`<form class="boxed" onSubmit=${begin}><h2>${s.t("start.title")}</h2>
    <label>${s.t("start.name")}<input name="jobname" required maxlength="120" /></label>
    <div class="pair"><label>${s.t("start.units")}<select name="units"><option value="ft">${s.t("start.feet")}</option><option value="m">${s.t("start.metres")}</option></select></label>
      <label>${s.t("field.person")}<input name="person" required value=${s.person.value} /></label></div>
    <button class="key main" disabled=${busy.value}>${s.t("start.go")}</button></form>`;
}
