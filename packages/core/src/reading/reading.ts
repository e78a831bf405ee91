import type { Alternative } from '../identify/alternative.ts';
import type { LimnerRecord } from '../record/record.ts';

/** The fitted curves behind a record, for drawing. All arrays have the length of the spectrum; zero outside the fitted range. */
export interface Curves {
  /** Channel centres on the settled axis, eV. */
  readonly energyEv: Float64Array;
  readonly counts: Float64Array;
  /** The whole model. */
  readonly total: Float64Array;
  readonly background: Float64Array;
  /** One per element in the fit and per artefact; background + layers = total. */
  readonly layers: readonly Layer[];
}

export interface Layer {
  readonly kind: 'element' | 'artefact';
  /** Element symbol, or the artefact's name as in the ledger. */
  readonly name: string;
  readonly counts: Float64Array;
}

/** A record with the curves that a figure of it needs. */
export interface Reading {
  readonly record: LimnerRecord;
  readonly curves: Curves;
  /** What would be expected without an element of the fit, and with its best rival instead; null for other elements. Fitted when asked for. */
  alternative(symbol: string): Alternative | null;
}
