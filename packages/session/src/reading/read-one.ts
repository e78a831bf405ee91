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
import { jsonBytes } from '../results/json-bytes.ts';
import type { Outcome } from '../results/outcome.ts';
import { type Sketch, sketchOf } from '../summary/sketch.ts';
import { type Kept, keptWith } from './keep.ts';
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

type Result = Read | { readonly reason: string };

interface Read {
  readonly record: LimnerRecord;
  readonly sketch: Sketch;
}

/** What became of a file, and how. */
export type ReadOutcome = Outcome & {
  /** Nothing was worked out now: it is the result of an earlier run, or there was nothing to read. */
  readonly kept: boolean;
  /** What was known of the instrument as it was read. */
  readonly instrument: InstrumentKnowledge | null;
};

/** Reads one file, or takes its result from the store where about the same was known of the instrument; a new result is kept before this resolves. */
export async function readOne(job: ReadJob): Promise<ReadOutcome | NotKept> {
  const { name, part } = job;
  if (job.fault !== null) return unreadable(name, job.fault, part);
  let bytes: Uint8Array;
  try {
    bytes = await readBytesWithin(job.folder, name);
  } catch (error) {
    return unreadable(name, messageWithin(error), part);
  }
  const sha256 = sha256Of(bytes);
  if (part !== null && !inPart(sha256, part)) return { kind: 'elsewhere', name, sha256, kept: true, instrument: null };
  const store = new ResultStore(job.store);
  const { circumstances, instrument, references, seen, stated } = job;
  const key = sha256Of(JSON.stringify([name, sha256, circumstances, references, seen, stated]));
  const stored = await keptWith<Result>(store, key, instrument);
  const made: Kept<Result> = stored ?? { instrument, result: resultOf(bytes, job) };
  const { result } = made;
  const json = 'reason' in result ? new Uint8Array() : jsonBytes(result.record);
  if (stored === null) {
    try {
      await store.put(key, keptBytes(made, json));
    } catch (error) {
      return notKept(name, error);
    }
  }
  const how = { name, sha256, kept: stored !== null, instrument: made.instrument };
  if ('reason' in result) return { ...how, kind: 'failed', reason: result.reason };
  return { ...how, kind: 'read', derived: derive(result.record, result.sketch, job.told, json) };
}

/** A result as it is kept. The record is by far its largest part, so its JSON is used again. */
function keptBytes({ instrument, result }: Kept<Result>, json: Uint8Array): Uint8Array {
  if ('reason' in result) return Buffer.from(JSON.stringify({ instrument, result }));
  const before = `{"instrument":${JSON.stringify(instrument)},"result":{"record":`;
  const after = `,"sketch":${JSON.stringify(result.sketch)}}}`;
  return Buffer.concat([Buffer.from(before), json, Buffer.from(after)]);
}

/** A file that cannot be opened has no content, so its name decides which part reports it. */
function unreadable(name: string, reason: string, part: Part | null): ReadOutcome {
  const sha256 = sha256Of(name);
  const how = { name, kept: true, instrument: null };
  if (part !== null && !inPart(sha256, part)) return { ...how, kind: 'elsewhere', sha256: '' };
  return { ...how, kind: 'failed', sha256: null, reason };
}

function resultOf(bytes: Uint8Array, { name, axis, options, instrument, references, seen }: ReadJob): Result {
  try {
    const spectrum = spectrumFrom(bytes, { name, ...(axis && { axis }) }, name);
    const reading = readingOf(spectrum, { ...options, instrument, references, seen });
    return { record: reading.record, sketch: sketchOf(reading) };
  } catch (error) {
    return { reason: messageWithin(error) };
  }
}

const messageWithin = (error: unknown): string => (error instanceof InputError ? error.reason : messageOf(error));
