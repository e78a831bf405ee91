import type { Changes, EnergyAxis, IdentifyOptions } from '@limner/core';
import { type GivenBytes, givenFor } from './changes/given-files.ts';
import type { AlternativeView, MarkedLine, NamedSpectrum, PlainSpectrum, ReadingView } from './reading.ts';

/** A spectrum to read in the browser. */
export interface Source {
  /** The same for the same spectrum and what is stated of it. */
  readonly key: string;
  readonly name: string;
  readonly bytes: Uint8Array;
  /** What is stated of it: of all spectra when the viewer was started, or by its session. */
  readonly stated: { readonly options: IdentifyOptions; readonly axis?: EnergyAxis };
}

/** A spectrum with what a person changed, and the files that the changes name. */
export interface Asked {
  readonly source: Source;
  readonly changes: Changes;
  readonly given: GivenBytes;
}

export interface Question {
  readonly ticket: number;
  readonly ask:
    | ({ readonly kind: 'read' | 'planned' } & Asked)
    | ({ readonly kind: 'alternative'; readonly symbol: string } & Asked)
    | { readonly kind: 'materials'; readonly file: string; readonly bytes: Uint8Array }
    | { readonly kind: 'reference'; readonly file: string; readonly bytes: Uint8Array; readonly label: string }
    | { readonly kind: 'channels'; readonly source: Source }
    | { readonly kind: 'spectrum'; readonly source: Source; readonly changes: Changes }
    | { readonly kind: 'near'; readonly energyEv: number; readonly withinEv: number; readonly inFit: readonly string[] }
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

/** @throws where this tab does not have a file that the changes name */
const askedOf = (source: Source, changes: Changes): Asked => ({ source, changes, given: givenFor(changes) });

/** @throws with the faults of a table of own materials */
export async function checkMaterials(file: string, bytes: Uint8Array): Promise<void> {
  await ask({ kind: 'materials', file, bytes });
}

/** @throws with what is wrong with the spectrum of a known material, or with what it is said to be */
export async function checkReference(file: string, bytes: Uint8Array, label: string): Promise<void> {
  await ask({ kind: 'reference', file, bytes, label });
}

/** Reads a spectrum in the browser. @throws with the reader's one clear message */
export async function readHere(source: Source, changes: Changes): Promise<ReadingView> {
  return (await ask({ kind: 'read', ...askedOf(source, changes) })) as ReadingView;
}

/** The counts of a file that states no axis; null for one that does. @throws on bytes that are no spectrum */
export async function channelsHere(source: Source): Promise<number[] | null> {
  return (await ask({ kind: 'channels', source })) as number[] | null;
}

/** A spectrum as its file has it, on the axis stated there or here. @throws with the reader's one clear message */
export async function spectrumHere(source: Source, changes: Changes): Promise<PlainSpectrum> {
  return (await ask({ kind: 'spectrum', source, changes })) as PlainSpectrum;
}

/** The measurements that a plan proposes, as they would look. @throws where it proposes none */
export async function plannedHere(source: Source, changes: Changes): Promise<NamedSpectrum[]> {
  return (await ask({ kind: 'planned', ...askedOf(source, changes) })) as NamedSpectrum[];
}

/** An element left out of that reading, everything else fitted anew; null where it is not in the fit. */
export async function alternativeHere(
  source: Source,
  changes: Changes,
  symbol: string,
): Promise<AlternativeView | null> {
  return (await ask({ kind: 'alternative', ...askedOf(source, changes), symbol })) as AlternativeView | null;
}

/** The lines that could be at an energy, in words. */
export async function linesHere(energyEv: number, withinEv: number, inFit: readonly string[]): Promise<string> {
  return (await ask({ kind: 'near', energyEv, withinEv, inFit })) as string;
}

/** The lines of an element that a beam of this energy excites. @throws when there is no such element */
export async function linesToMark(symbol: string, beamKev: number): Promise<MarkedLine[]> {
  return (await ask({ kind: 'lines', symbol, beamKev })) as MarkedLine[];
}

/** Asks the server. @throws with the server's message */
export async function fetchJson<T>(path: string, sent?: RequestInit): Promise<T> {
  const response = await fetch(path, sent).catch(() => {
    throw new Error('The viewer does not answer. Start it again from the terminal.');
  });
  const body = (await response.json()) as T & { error?: string };
  if (!response.ok) throw new Error(body.error ?? `The viewer answered ${response.status}.`);
  return body;
}
