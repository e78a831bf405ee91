import type { MassFractions } from '../atomic/composition.ts';
import type { Emission } from '../emission/thick/characteristic.ts';
import type { Instrument } from '../model/instrument.ts';
import type { InstrumentPrior } from '../model/nuisances.ts';
import type { FitRange } from '../peaks/fit-range.ts';
import type { GroupHeights } from './heights.ts';
import type { Work } from './work.ts';

/** What stays fixed while a spectrum is fitted. */
export interface Scene {
  readonly counts: Float64Array;
  readonly range: FitRange;
  readonly emission: Emission;
  /** Counted where a reading may not go on for ever. */
  readonly work?: Work | undefined;
}

/** Where the model is made linear: its columns are those of this instrument, matrix and expectation. */
export interface Expansion {
  readonly instrument: Instrument;
  readonly composition: MassFractions;
  readonly prior: InstrumentPrior;
  /** Expected counts per channel, > 0: shape of pile-up and shelf, and weights. */
  readonly model: Float64Array;
  /** Coefficient level of the background in units of the physical continuum. */
  readonly backgroundLevel: number;
  /** Continuum counts; null when not known yet. */
  readonly background: Float64Array | null;
  /** Fraction of the counts in sum peaks: sets how far a sum's shift can be felt. */
  readonly sumRate: number;
  /** Heights of line groups as fitted last, by atomic number; as the physics gives them where absent. */
  readonly heights?: ReadonlyMap<number, GroupHeights>;
}

/** Fraction of counts in sum peaks where none is known yet. */
export const USUAL_SUM_RATE = 0.003;
