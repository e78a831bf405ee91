import { identify, type IdentifyOptions, type InstrumentKnowledge, type LimnerRecord } from '@limner/core';
import type { EnergyAxis } from '@limner/core';
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { derive, type Derived } from '../results/derive.ts';
import { InputError, messageOf, readBytes, spectrumFrom } from '../input/load.ts';
import { inPart, type Part } from '../results/part.ts';
import { ResultStore } from './result-store.ts';

/** One file to read; plain data, so that it can go to a worker. */
export interface Task {
  readonly kind: 'read';
  readonly folder: string;
  /** Path below the folder, with '/' between names. */
  readonly name: string;
  /** Folder of the finished results. */
  readonly store: string;
  /** What else decides the result: options and versions, as text. */
  readonly circumstances: string;
  readonly options: IdentifyOptions;
  readonly axis: EnergyAxis | null;
  readonly part: Part | null;
  /** What the session knows of its instrument. */
  readonly instrument: InstrumentKnowledge | null;
}

/** What became of a file. */
export type Outcome =
  | { readonly kind: 'read'; readonly name: string; readonly sha256: string; readonly derived: Derived }
  | { readonly kind: 'failed'; readonly name: string; readonly sha256: string | null; readonly reason: string }
  | { readonly kind: 'elsewhere'; readonly name: string; readonly sha256: string }
  /** The result could not be kept: a system error's code and message. */
  | { readonly kind: 'not-kept'; readonly name: string; readonly code: string; readonly message: string };

type Kept = { readonly record: LimnerRecord } | { readonly reason: string };

/** Reads one file, or takes its result from the store; a new result is kept before this resolves. */
export async function readOne(task: Task): Promise<Outcome> {
  const { name, part } = task;
  let bytes: Uint8Array;
  try {
    bytes = await readBytes(join(task.folder, name), name);
  } catch (error) {
    return unreadable(name, messageWithin(error), part);
  }
  const sha256 = sha256Of(bytes);
  if (part !== null && !inPart(sha256, part)) return { kind: 'elsewhere', name, sha256 };
  const store = new ResultStore(task.store);
  const key = sha256Of(JSON.stringify([name, sha256, task.circumstances, task.instrument]));
  const known = await store.get(key);
  const kept = known === undefined ? resultOf(bytes, task) : (JSON.parse(known) as Kept);
  if (known === undefined) {
    try {
      await store.put(key, JSON.stringify(kept));
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? String(error.code) : '';
      return { kind: 'not-kept', name, code, message: messageOf(error) };
    }
  }
  if ('reason' in kept) return { kind: 'failed', name, sha256, reason: kept.reason };
  return { kind: 'read', name, sha256, derived: derive(kept.record) };
}

/** What cannot be opened has no content, so its name says which part tells of it. */
function unreadable(name: string, reason: string, part: Part | null): Outcome {
  const sha256 = sha256Of(name);
  if (part !== null && !inPart(sha256, part)) return { kind: 'elsewhere', name, sha256: '' };
  return { kind: 'failed', name, sha256: null, reason };
}

function resultOf(bytes: Uint8Array, { name, axis, options, instrument }: Task): Kept {
  try {
    return { record: identify(spectrumFrom(bytes, { name, ...(axis && { axis }) }, name), { ...options, instrument }) };
  } catch (error) {
    return { reason: messageWithin(error) };
  }
}

const messageWithin = (error: unknown): string => (error instanceof InputError ? error.reason : messageOf(error));

/** SHA-256 in hex; text as UTF-8. */
export function sha256Of(content: Uint8Array | string): string {
  return createHash('sha256').update(content).digest('hex');
}
