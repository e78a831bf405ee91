import {
  type EnergyAxis,
  type IdentifyOptions,
  type InstrumentKnowledge,
  type LimnerRecord,
  type Observations,
  readingOf,
  type ReferenceGrain,
} from '@limner/core';
import { InputError, messageOf, spectrumFrom } from '../input/load.ts';
import { inPart, type Part } from '../input/part.ts';
import { sha256Of } from '../input/sha256.ts';
import type { Stated } from '../input/stated.ts';
import { readBytesWithin } from '../input/within.ts';
import { derive, type HowTold } from '../results/derive.ts';
import type { Outcome } from '../results/outcome.ts';
import { type Sketch, sketchOf } from '../summary/sketch.ts';
import { type NotKept, notKept } from './not-kept.ts';
import { ResultStore } from './result-store.ts';

/** One file to read; plain data, so that it can go to a worker. */
export interface ReadJob {
  readonly kind: 'read';
  readonly folder: string;
  /** Path below the folder, with '/' between names. */
  readonly name: string;
  /** Why it is not to be opened, as found out before; null as a rule. */
  readonly fault: string | null;
  /** Folder of the stored results. */
  readonly store: string;
  /** What else decides the result: options and versions, as text. */
  readonly circumstances: string;
  readonly options: IdentifyOptions;
  readonly axis: EnergyAxis | null;
  readonly part: Part | null;
  /** What the session knows about its instrument. */
  readonly instrument: InstrumentKnowledge | null;
  /** Reference grains that it is held against. */
  readonly references: readonly ReferenceGrain[];
  /** What else was seen of it, as the sample sheet says. */
  readonly seen: Observations | null;
  /** What the sheet states of the measurement; `options` and `axis` hold it too. */
  readonly stated: Stated | null;
  readonly told: HowTold;
}

type Kept = { readonly record: LimnerRecord; readonly sketch: Sketch } | { readonly reason: string };

/** Reads one file, or takes its result from the store; a new result is kept before this resolves. */
export async function readOne(job: ReadJob): Promise<Outcome | NotKept> {
  const { name, part } = job;
  if (job.fault !== null) return unreadable(name, job.fault, part);
  let bytes: Uint8Array;
  try {
    bytes = await readBytesWithin(job.folder, name);
  } catch (error) {
    return unreadable(name, messageWithin(error), part);
  }
  const sha256 = sha256Of(bytes);
  if (part !== null && !inPart(sha256, part)) return { kind: 'elsewhere', name, sha256 };
  const store = new ResultStore(job.store);
  const { circumstances, instrument, references, seen, stated } = job;
  const key = sha256Of(JSON.stringify([name, sha256, circumstances, instrument, references, seen, stated]));
  const stored = await store.get(key);
  const kept = stored === undefined ? resultOf(bytes, job) : (JSON.parse(stored) as Kept);
  if (stored === undefined) {
    try {
      await store.put(key, JSON.stringify(kept));
    } catch (error) {
      return notKept(name, error);
    }
  }
  if ('reason' in kept) return { kind: 'failed', name, sha256, reason: kept.reason };
  return { kind: 'read', name, sha256, derived: derive(kept.record, kept.sketch, job.told) };
}

/** A file that cannot be opened has no content, so its name decides which part reports it. */
function unreadable(name: string, reason: string, part: Part | null): Outcome {
  const sha256 = sha256Of(name);
  if (part !== null && !inPart(sha256, part)) return { kind: 'elsewhere', name, sha256: '' };
  return { kind: 'failed', name, sha256: null, reason };
}

function resultOf(bytes: Uint8Array, { name, axis, options, instrument, references, seen }: ReadJob): Kept {
  try {
    const spectrum = spectrumFrom(bytes, { name, ...(axis && { axis }) }, name);
    const reading = readingOf(spectrum, { ...options, instrument, references, seen });
    return { record: reading.record, sketch: sketchOf(reading) };
  } catch (error) {
    return { reason: messageWithin(error) };
  }
}

const messageWithin = (error: unknown): string => (error instanceof InputError ? error.reason : messageOf(error));
