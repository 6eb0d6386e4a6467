// The worker that the engine runs in.
declare const Go: new () => { importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };
declare function importScripts(...urls: string[]): void;
const scope = self as unknown as DedicatedWorkerGlobalScope & {
  spadeworkEngine?: (request: Uint8Array, progress: (text: string) => void) => Uint8Array;
  spadeworkReady?: () => void;
};

async function load(): Promise<void> {
  importScripts("/wasm_exec.js");
  const go = new Go();
  const name = `/${self.name === "foreman" ? "foreman" : "engine"}.wasm`;
  const answer = await fetch(name);
  if (!answer.ok) throw new Error(name + ": " + answer.status);
  const ready = new Promise<void>((done) => { scope.spadeworkReady = done; });
  const { instance } = await WebAssembly.instantiateStreaming(answer, go.importObject);
  void go.run(instance);
  await ready;
}

const loaded = load();

scope.onmessage = async (e: MessageEvent) => {
  const { id, request } = e.data;
  try {
    await loaded;
    const answer = scope.spadeworkEngine!(new TextEncoder().encode(request), (progress) => scope.postMessage({ id, progress }));
    scope.postMessage({ id, answer: new TextDecoder().decode(answer) });
  } catch (error) {
    scope.postMessage({ id, error: String(error) });
  }
};
