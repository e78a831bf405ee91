import type { Answer, Asks, Kind } from './protocol.ts';

/** What answers questions; null where a newer one of the same kind came in between. */
export interface Asker {
  ask<K extends Kind>(kind: K, ask: Asks[K]['ask']): Promise<Asks[K]['answer'] | null>;
}

/**
 * A worker with core, and what is asked of it. Of questions of one kind only the newest waits, and answers that a newer question
 * has overtaken are dropped: a late answer never overwrites a newer one.
 */
export class Core implements Asker {
  readonly #worker: Worker;
  readonly #waiting = new Map<number, { resolve: (value: never) => void; reject: (error: Error) => void }>();
  readonly #queue = new Map<Kind, { ask: unknown; start: (ticket: number) => void; drop: () => void }>();
  #busy = false;
  #tickets = 0;

  constructor(worker: Worker) {
    this.#worker = worker;
    worker.addEventListener('message', (event: MessageEvent<Answer>) => this.#answered(event.data));
  }

  /** The answer; null where a newer question of the same kind came in between. @throws with core's message */
  ask<K extends Kind>(kind: K, ask: Asks[K]['ask']): Promise<Asks[K]['answer'] | null> {
    this.#queue.get(kind)?.drop();
    // It waits behind what was asked before it, not in the place of the one that it drops.
    this.#queue.delete(kind);
    return new Promise((resolve, reject) => {
      this.#queue.set(kind, {
        ask,
        drop: () => resolve(null),
        start: (ticket) => this.#waiting.set(ticket, { resolve: resolve, reject }),
      });
      this.#next();
    });
  }

  #next(): void {
    const [first] = this.#queue;
    if (this.#busy || first === undefined) return;
    const [kind, { ask, start }] = first;
    this.#queue.delete(kind);
    this.#busy = true;
    const ticket = ++this.#tickets;
    start(ticket);
    this.#worker.postMessage({ ticket, kind, ask });
  }

  #answered(answer: Answer): void {
    const { resolve, reject } = this.#waiting.get(answer.ticket)!;
    this.#waiting.delete(answer.ticket);
    this.#busy = false;
    if (answer.ok) resolve(answer.value as never);
    else reject(new Error(answer.message));
    this.#next();
  }
}

/** Text of the worker's script, where the page was opened from a folder: a browser starts no worker from a file. */
declare global {
  var limnerBenchWorker: string | undefined;
}

export function startWorker(): Worker {
  const text = globalThis.limnerBenchWorker;
  if (text === undefined) return new Worker(new URL('bench-worker.js', document.baseURI));
  return new Worker(URL.createObjectURL(new Blob([text], { type: 'text/javascript' })));
}
