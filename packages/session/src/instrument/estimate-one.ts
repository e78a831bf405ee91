import {
  type EnergyAxis,
  type IdentifyOptions,
  type InstrumentEstimate,
  type KnownReading,
  readInstrument,
  readKnown,
} from '@limner/core';
import { join } from 'node:path';
import { knownMaterial } from '../input/known-material.ts';
import { messageOf, readBytes, spectrumFrom } from '../input/load.ts';
import { sha256Of } from '../reading/read-one.ts';
import { ResultStore } from '../reading/result-store.ts';

/** A spectrum to be asked about its instrument; plain data. */
export interface EstimateTask {
  readonly kind: 'estimate';
  readonly folder: string;
  readonly name: string;
  readonly store: string;
  readonly circumstances: string;
  readonly options: IdentifyOptions;
  readonly axis: EnergyAxis | null;
  /** What the samples' sheet says it is; null when not known. */
  readonly known: string | null;
}

/** What a spectrum says of its instrument; `reading` is null where it says nothing. */
export type Estimated =
  | { readonly kind: 'estimated'; readonly name: string; readonly reading: EstimateReading | null }
  | { readonly kind: 'not-kept'; readonly name: string; readonly code: string; readonly message: string };

export interface EstimateReading extends Partial<Pick<KnownReading, 'evidence' | 'contradictions'>> {
  readonly estimate: InstrumentEstimate;
}

/** Reads one spectrum on its own for what it says of the instrument, or takes that from the store. */
export async function estimateOne(task: EstimateTask): Promise<Estimated> {
  const { name, known } = task;
  let bytes: Uint8Array;
  try {
    bytes = await readBytes(join(task.folder, name), name);
  } catch {
    return { kind: 'estimated', name, reading: null };
  }
  const store = new ResultStore(task.store);
  const key = sha256Of(JSON.stringify(['instrument', name, sha256Of(bytes), task.circumstances, known]));
  const kept = await store.get(key);
  if (kept !== undefined) return { kind: 'estimated', name, reading: JSON.parse(kept) as EstimateReading | null };
  const reading = readingOf(bytes, task);
  try {
    await store.put(key, JSON.stringify(reading));
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    return { kind: 'not-kept', name, code, message: messageOf(error) };
  }
  return { kind: 'estimated', name, reading };
}

/** Null where the spectrum cannot be explained: reading it later says why. */
function readingOf(bytes: Uint8Array, { name, axis, options, known }: EstimateTask): EstimateReading | null {
  try {
    const spectrum = spectrumFrom(bytes, { name, ...(axis && { axis }) }, name);
    return known === null
      ? { estimate: readInstrument(spectrum, options) }
      : readKnown(spectrum, knownMaterial(known), options);
  } catch {
    return null;
  }
}
