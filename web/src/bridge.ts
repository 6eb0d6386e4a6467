// The one bridge to the engine, which runs in a worker. Answers come in the order
// of the requests.
import type { Told } from "./types";

/** A fault of the engine, in the language of the page. */
export class Fault extends Error {
  constructor(readonly told: Told) { super(told.message); }
}

interface Waiting { done: (value: unknown) => void; failed: (reason: unknown) => void; progress?: (p: Progress) => void }
export interface Progress { stage: string; done: number; of: number }

/** An engine in a worker of its own. */
export class Engine {
  private worker?: Worker;
  private last = 0;
  private readonly waiting = new Map<number, Waiting>();

  constructor(private readonly module: string) {}

  private start(): Worker {
    const w = new Worker("/worker.js", { name: this.module });
    w.onmessage = (e: MessageEvent) => {
      const one = this.waiting.get(e.data.id);
      if (!one) return;
      if (e.data.progress) { one.progress?.(JSON.parse(e.data.progress)); return; }
      this.waiting.delete(e.data.id);
      if (e.data.error) { one.failed(new Error(e.data.error)); return; }
      const answer = JSON.parse(e.data.answer);
      if (answer.fault) one.failed(new Fault(answer.fault)); else one.done(answer.ok);
    };
    w.onerror = (e) => this.fail(new Error(e.message));
    return w;
  }

  private fail(reason: Error): void {
    for (const one of this.waiting.values()) one.failed(reason);
    this.waiting.clear();
  }

  /** Asks the engine. */
  ask<T>(call: string, args: unknown = {}, progress?: (p: Progress) => void): Promise<T> {
    this.worker ??= this.start();
    const id = ++this.last;
    return new Promise<T>((done, failed) => {
      this.waiting.set(id, { done: done as (v: unknown) => void, failed, progress });
      this.worker!.postMessage({ id, request: JSON.stringify({ call, args }) });
    });
  }

  /** Ends the work under way; the engine starts anew at the next request. */
  cancel(): void {
    this.worker?.terminate();
    this.worker = undefined;
    this.fail(new Error("cancelled"));
  }
}

const cab = new Engine("engine");
/** The engine of the page in the cab. */
export const ask: Engine["ask"] = (call, args, progress) => cab.ask(call, args, progress);
export const cancel = () => cab.cancel();
