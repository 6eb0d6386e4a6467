// The worker that the sheets' module runs in: one request, one PDF.
declare const Go: new () => { importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };
declare function importScripts(...urls: string[]): void;
const scope = self as unknown as DedicatedWorkerGlobalScope & { spadeworkSheets?: (request: string) => Uint8Array | string };

async function load(): Promise<void> {
  importScripts("/wasm_exec.js");
  const go = new Go();
  const answer = await fetch("/sheets.wasm");
  if (!answer.ok) throw new Error("sheets.wasm: " + answer.status);
  const { instance } = await WebAssembly.instantiateStreaming(answer, go.importObject);
  void go.run(instance);
}

scope.onmessage = async (e: MessageEvent<string>) => {
  try {
    await load();
    const made = scope.spadeworkSheets!(e.data);
    if (typeof made === "string") scope.postMessage({ error: made });
    else scope.postMessage({ pdf: made }, [made.buffer as ArrayBuffer]);
  } catch (error) {
    scope.postMessage({ error: String(error) });
  }
};
export {};
