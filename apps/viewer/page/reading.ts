import type { LimnerRecord, Tree } from '@limner/core';

/** The curves of a reading, as they come from the worker (typed arrays) or from the server (plain arrays). */
export interface CurvesView {
  readonly energyEv: ArrayLike<number>;
  readonly counts: ArrayLike<number>;
  readonly total: ArrayLike<number>;
  readonly background: ArrayLike<number>;
  readonly layers: readonly LayerView[];
}

/** Counts over a straight axis, as a file has them. */
export interface PlainSpectrum {
  /** Energy of channel 0. */
  readonly offsetEv: number;
  readonly gainEv: number;
  readonly counts: readonly number[];
  readonly liveTimeS: number | null;
  /** Of a measurement that was not made: its live time says nothing. */
  readonly planned?: true;
}

/** A spectrum with what it is called. */
export interface NamedSpectrum {
  readonly name: string;
  readonly spectrum: PlainSpectrum;
}

export interface LayerView {
  readonly kind: 'element' | 'artefact';
  readonly name: string;
  readonly counts: ArrayLike<number>;
}

export interface ReadingView {
  readonly record: LimnerRecord;
  /** The record as it is told; made where the reading is, beside the materials it names. */
  readonly tree: Tree;
  /** Null where only the record is at hand. */
  readonly curves: CurvesView | null;
}

/** A reading whose spectrum is at hand. */
export type DrawnReading = ReadingView & { readonly curves: CurvesView };

/** The fit without an element, and with its best rival in its place. */
export interface AlternativeView {
  readonly without: ArrayLike<number>;
  readonly instead: { readonly name: string; readonly expected: ArrayLike<number> } | null;
}

/** A line of an element as it is marked in the figure. */
export interface MarkedLine {
  readonly line: string;
  readonly siegbahn: string | null;
  readonly energyEv: number;
  /** Photons emitted, over those of the strongest line of the same shell: 0 to 1. */
  readonly strength: number;
}
