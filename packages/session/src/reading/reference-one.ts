import type { EnergyAxis, IdentifyOptions, InstrumentKnowledge, ReferenceGrain } from '@limner/core';
import { messageOf } from '../input/load.ts';
import { readReferenceIn, type ReferenceFile } from '../input/references.ts';
import { sha256Of } from '../input/sha256.ts';
import type { Stated } from '../input/stated.ts';
import { readBytesWithin } from '../input/within.ts';
import { type Kept, keptWith } from './keep.ts';
import { type NotKept, notKept } from './not-kept.ts';
import { ResultStore } from './result-store.ts';

/** A reference to read as the grains of the session are read; plain data. */
export interface ReferenceJob extends ReferenceFile {
  readonly kind: 'reference';
  readonly folder: string;
  /** Name in the records. */
  readonly as: string;
  readonly store: string;
  readonly circumstances: string;
  readonly options: IdentifyOptions;
  readonly axis: EnergyAxis | null;
  readonly instrument: InstrumentKnowledge | null;
  /** What the sample sheet states of the measurement; `options` and `axis` hold it too. */
  readonly stated: Stated | null;
}

export interface ReferenceRead {
  readonly kind: 'reference';
  readonly as: string;
  /** Null where it cannot be read; `reason` says why. */
  readonly grain: ReferenceGrain | null;
  readonly reason: string;
}

/** Reads one reference, or takes it from the store where about the same was known of the instrument. */
export async function referenceOne(job: ReferenceJob): Promise<ReferenceRead | NotKept> {
  const { folder, name, label, as, axis, options, instrument, stated } = job;
  const unread = (error: unknown): ReferenceRead => ({ kind: 'reference', as, grain: null, reason: messageOf(error) });
  try {
    const bytes = await readBytesWithin(folder, name);
    const store = new ResultStore(job.store);
    const sha256 = sha256Of(bytes);
    const key = sha256Of(JSON.stringify(['reference', as, label, sha256, job.circumstances, stated]));
    const kept = await keptWith<ReferenceGrain>(store, key, instrument);
    if (kept) return { kind: 'reference', as, grain: kept.result, reason: '' };
    const read = { axis: axis ?? undefined, options: { ...options, instrument }, as };
    const grain = await readReferenceIn(folder, { name, label }, read);
    try {
      await store.put(key, JSON.stringify({ instrument, result: grain } satisfies Kept<ReferenceGrain>));
    } catch (error) {
      return notKept(name, error);
    }
    return { kind: 'reference', as, grain, reason: '' };
  } catch (error) {
    return unread(error);
  }
}
