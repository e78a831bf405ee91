import type { InstrumentKnowledge } from '@limner/core';
import { agree } from '../instrument/agreeing.ts';
import type { ResultStore } from './result-store.ts';

/** A result, with what was known of the instrument as it was made. */
export interface Kept<T> {
  readonly instrument: InstrumentKnowledge | null;
  readonly result: T;
}

/** The result kept under a key where it was made with about the same knowledge of the instrument; null where it must be made anew. */
export async function keptWith<T>(
  store: ResultStore,
  key: string,
  instrument: InstrumentKnowledge | null,
): Promise<Kept<T> | null> {
  const text = await store.get(key);
  if (text === undefined) return null;
  const kept = JSON.parse(text) as Kept<T>;
  return agree(kept.instrument, instrument) ? kept : null;
}
