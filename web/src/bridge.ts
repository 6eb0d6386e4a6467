// The one bridge to the engine, which runs in a worker. Answers come in the order
// of the requests.
import type { Told } from "./types";

/** A fault of the engine, in the language of the page. */
export class Fault extends Error {
  constructor(readonly told: Told) { super(told.message); }
}

interface Waiting { done: (value: unknown) => void; failed: (reason: unknown) => void; progress?: (p: Progress) => void }
export interface Progress { stage: string; done: number; of: number }

let worker: Worker | undefined;
let last = 0;
const waiting = new Map<number, Waiting>();

function start(): Worker {
  const w = new Worker("/worker.js");
  w.onmessage = (e: MessageEvent) => {
    const one = waiting.get(e.data.id);
    if (!one) return;
    if (e.data.progress) { one.progress?.(JSON.parse(e.data.progress)); return; }
    waiting.delete(e.data.id);
    if (e.data.error) { one.failed(new Error(e.data.error)); return; }
    const answer = JSON.parse(e.data.answer);
    if (answer.fault) one.failed(new Fault(answer.fault)); else one.done(answer.ok);
  };
  w.onerror = (e) => {
    for (const one of waiting.values()) one.failed(new Error(e.message));
    waiting.clear();
  };
  return w;
}

/** Asks the engine. */
export function ask<T>(call: string, args: unknown = {}, progress?: (p: Progress) => void): Promise<T> {
  worker ??= start();
  const id = ++last;
  return new Promise<T>((done, failed) => {
    waiting.set(id, { done: done as (v: unknown) => void, failed, progress });
    worker!.postMessage({ id, request: JSON.stringify({ call, args }) });
  });
}

/** Ends the work under way; the engine starts anew at the next request. */
export function cancel(): void {
  worker?.terminate();
  worker = undefined;
  for (const one of waiting.values()) one.failed(new Error("cancelled"));
  waiting.clear();
}
