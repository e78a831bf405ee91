import type { Given } from './given.ts';
import type { MarkedLine, ReadingView } from './reading.ts';

export interface Question {
  readonly ticket: number;
  readonly ask:
    | { readonly kind: 'read'; readonly bytes: Uint8Array; readonly name: string; readonly given: Given }
    | { readonly kind: 'lines'; readonly symbol: string; readonly beamKev: number };
}

export type Answer =
  | { readonly ticket: number; readonly ok: true; readonly value: unknown }
  | { readonly ticket: number; readonly ok: false; readonly message: string };

const waiting = new Map<number, { resolve: (value: unknown) => void; reject: (error: Error) => void }>();
let worker: Worker | null = null;
let tickets = 0;

function ask(question: Question['ask']): Promise<unknown> {
  worker ??= startWorker();
  const ticket = ++tickets;
  worker.postMessage({ ticket, ask: question } satisfies Question);
  return new Promise((resolve, reject) => waiting.set(ticket, { resolve, reject }));
}

function startWorker(): Worker {
  const started = new Worker(new URL('worker.js', document.baseURI), { type: 'module' });
  started.addEventListener('message', (event: MessageEvent<Answer>) => {
    const answer = event.data;
    const { resolve, reject } = waiting.get(answer.ticket)!;
    waiting.delete(answer.ticket);
    if (answer.ok) resolve(answer.value);
    else reject(new Error(answer.message));
  });
  return started;
}

/** Reads a file that was opened in the page, in the browser itself. @throws with the reader's one clear message */
export async function readOpened(file: File, given: Given = {}): Promise<ReadingView> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  return (await ask({ kind: 'read', bytes, name: file.name, given })) as ReadingView;
}

/** The lines of an element that a beam of this energy excites. @throws when there is no such element */
export async function linesToMark(symbol: string, beamKev: number): Promise<MarkedLine[]> {
  return (await ask({ kind: 'lines', symbol, beamKev })) as MarkedLine[];
}

/** Asks the server. @throws with the server's message */
export async function fetchJson<T>(path: string): Promise<T> {
  const response = await fetch(path).catch(() => {
    throw new Error('The viewer no longer answers. Start it again from the terminal.');
  });
  const body = (await response.json()) as T & { error?: string };
  if (!response.ok) throw new Error(body.error ?? `The viewer answered ${response.status}.`);
  return body;
}
