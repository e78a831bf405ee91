import { type EnergyAxis, type IdentifyOptions, readInstrument, readKnown } from '@limner/core';
import { spectrumFrom } from '../input/load.ts';
import { referenceMaterial } from '../input/reference-material.ts';
import { sha256Of } from '../input/sha256.ts';
import type { Stated } from '../input/stated.ts';
import { readBytesWithin } from '../input/within.ts';
import type { EstimateReading } from '../instrument/calibration.ts';
import { type NotKept, notKept } from './not-kept.ts';
import { ResultStore } from './result-store.ts';

/** A spectrum to read for what it says about its instrument; plain data. */
export interface EstimateJob {
  readonly kind: 'estimate';
  readonly folder: string;
  readonly name: string;
  readonly store: string;
  readonly circumstances: string;
  readonly options: IdentifyOptions;
  readonly axis: EnergyAxis | null;
  /** What the sample sheet states of the measurement; `options` and `axis` hold it too. */
  readonly stated: Stated | null;
  /** Composition of a reference material as the sample sheet states it; null for other spectra. */
  readonly known: string | null;
}

/** What a spectrum says about its instrument; `reading` is null where it says nothing. */
export interface Estimated {
  readonly kind: 'estimated';
  readonly name: string;
  /** Taken from an earlier run, or nothing to work out. */
  readonly kept: boolean;
  readonly reading: EstimateReading | null;
}

/** Reads one spectrum on its own for what it says about the instrument, or takes that from the store. */
export async function estimateOne(job: EstimateJob): Promise<Estimated | NotKept> {
  const { name, known, stated } = job;
  let bytes: Uint8Array;
  try {
    bytes = await readBytesWithin(job.folder, name);
  } catch {
    return { kind: 'estimated', name, kept: true, reading: null };
  }
  const store = new ResultStore(job.store);
  const key = sha256Of(JSON.stringify(['instrument', name, sha256Of(bytes), job.circumstances, known, stated]));
  const stored = await store.get(key);
  if (stored !== undefined)
    return { kind: 'estimated', name, kept: true, reading: JSON.parse(stored) as EstimateReading | null };
  const reading = readingOf(bytes, job);
  try {
    await store.put(key, JSON.stringify(reading));
  } catch (error) {
    return notKept(name, error);
  }
  return { kind: 'estimated', name, kept: false, reading };
}

/** Null where the spectrum cannot be explained; the reading that follows says why. */
function readingOf(bytes: Uint8Array, { name, axis, options, known }: EstimateJob): EstimateReading | null {
  try {
    const spectrum = spectrumFrom(bytes, { name, ...(axis && { axis }) }, name);
    return known === null
      ? { estimate: readInstrument(spectrum, options) }
      : readKnown(spectrum, referenceMaterial(known), options);
  } catch {
    return null;
  }
}
