// The sheets of the job on paper, made on the phone.
import { html } from "./html";
import * as s from "./state";
import { recordsOf } from "./storage";

/** Makes the PDF in a worker of its own, which ends with it. */
function make(request: string): Promise<Uint8Array<ArrayBuffer>> {
  const worker = new Worker("/sheetworker.js");
  return new Promise<Uint8Array<ArrayBuffer>>((done, failed) => {
    worker.onmessage = (e: MessageEvent<{ pdf?: Uint8Array<ArrayBuffer>; error?: string }>) => { if (e.data.pdf) done(e.data.pdf); else failed(new Error(e.data.error)); };
    worker.onerror = (e) => failed(new Error(e.message));
    worker.postMessage(request);
  }).finally(() => worker.terminate());
}

/** What is printed: the job as kept here with every record that counts. */
async function request(paper: string): Promise<string> {
  const k = s.job.value!;
  const { [k.bundle.main]: job, ...tables } = k.bundle.files;
  const records = (await recordsOf(k.id)).filter((r) => r.state !== "refused").map((r) => r.record);
  const asked = { job, tables, today: s.today(), language: s.language.value, paper, link: location.origin + "/", foremen: [] };
  return JSON.stringify(asked).slice(0, -1) + `,"records":[${records.join(",")}]}`;
}

async function print(paper: string): Promise<void> {
  if (!s.job.value || s.working.value) return;
  s.working.value = s.t("paper.making");
  try {
    const pdf = await make(await request(paper));
    const a = document.createElement("a");
    a.href = URL.createObjectURL(new Blob([pdf], { type: "application/pdf" }));
    a.download = `${s.job.value.id}.pdf`;
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 60_000); // a phone opens it in its own time
  } catch (error) { s.fail(error); }
  s.working.value = "";
}

/** Fetches the module when the page has nothing else to do; the service worker keeps it. */
export function fetchInIdleTime(): void {
  const idle = window.requestIdleCallback ?? ((work: () => void) => setTimeout(work, 5000));
  idle(() => { void fetch("/sheets.wasm").then((a) => a.arrayBuffer()).catch(() => undefined); });
}

export function Paper() {
  return html`<fieldset class="pair"><legend>${s.t("paper.title")}</legend>
    <button class="key" disabled=${!!s.working.value} onClick=${() => void print("letter")}>Letter</button>
    <button class="key" disabled=${!!s.working.value} onClick=${() => void print("a4")}>A4</button></fieldset>`;
}
