import type { InstrumentKnowledge, ReferenceFinding } from '../model/instrument-knowledge.ts';

/** The instrument of a session, one part per setting; plain data for the manifest and the report. */
export interface SettingSummary {
  readonly setting: string;
  /** Spectra taken with it, and how many of them were read for what they say about the instrument. */
  readonly spectra: number;
  readonly asked: number;
  /** Spectra that contradict the others and were left out. */
  readonly outlying: readonly string[];
  /** Whether times are known, so that a drift was allowed for. */
  readonly timed: boolean;
  /** At the first and at the last spectrum; null when too few spectra show it. */
  readonly begins: InstrumentState | null;
  readonly ends: InstrumentState | null;
  /** Scatter between spectra: offset eV, gain (relative), noise eV, Fano factor (relative). */
  readonly scatter: readonly number[];
  /** What its reference materials changed; the name is that of the manifest's schema 1. */
  readonly lessons: readonly ReferenceFinding[];
  readonly known: readonly { readonly file: string; readonly contradictions: readonly string[] }[];
}

/** What is known of an instrument at one time of a session. */
export type InstrumentState = Pick<
  InstrumentKnowledge,
  'axis' | 'pivotEv' | 'positionSigmaEv' | 'gainSigma' | 'noiseEv' | 'fano' | 'thickWindow'
>;
