import type { MassFractions } from '../atomic/composition.ts';
import type { Emission } from '../emission/characteristic.ts';
import type { AmountsProblem, Elimination } from '../fit/eliminate.ts';
import type { Column } from '../model/column.ts';
import type { Instrument } from '../model/instrument.ts';
import type { Nuisance } from '../model/nuisances.ts';
import type { ElementTemplate } from '../model/templates.ts';
import type { FitRange } from '../peaks/fit-range.ts';
import type { OwnColumns } from './own-doubts.ts';
import type { Hypothesis } from './search.ts';

/** A named column of the instrument's or the background's doing, with its coefficient's meaning. */
export interface ArtefactColumn {
  readonly name: 'background' | 'continuum doubt' | 'charge shelf' | 'sum peaks';
  readonly column: Column;
  /** Gaussian prior of its coefficient; null for the splines, which are bound together. */
  readonly prior: { readonly mean: number; readonly sigma: number } | null;
}

/** One round's linear problem, solved: every column, its coefficient, and the explanation chosen. */
export interface Round {
  readonly instrument: Instrument;
  readonly composition: MassFractions;
  /** Element templates, the first columns of the problem, in the order of the explanation's indices. */
  readonly templates: readonly ElementTemplate[];
  readonly areas: Float64Array;
  readonly artefacts: readonly ArtefactColumn[];
  readonly nuisances: readonly Nuisance[];
  readonly elimination: Elimination;
  readonly own: OwnColumns;
  /** The amounts problem with the nuisances of absent elements struck out, and which those are. */
  readonly problem: AmountsProblem;
  readonly struck: readonly number[];
  readonly hypothesis: Hypothesis;
  /** Coefficients of artefact columns, then of nuisances. */
  readonly theta: Float64Array;
  /** Continuum part of the model, counts per channel. */
  readonly background: Float64Array;
  /** Expected counts per channel. */
  readonly model: Float64Array;
  /** Cash statistic over the range plus the penalties of the set and the prior's share: what rounds are compared by. */
  readonly merit: number;
  readonly c: number;
}

/** Everything that stays fixed while one spectrum is explained. */
export interface Frame {
  readonly counts: Float64Array;
  readonly range: FitRange;
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /** Emission under the frame's beam, and the same with attenuation in the specimen raised by ATTENUATION_DOUBT. */
  readonly emission: Emission;
  readonly attenuatedEmission: Emission;
  readonly penalty: Float64Array;
}

/** Misfit (C per channel) from which the counts are no spectrum that the model knows. */
const HOPELESS_MISFIT = 12;

/** Whether a round's model is so far from the counts that a long search would only dress up the misfit. */
export function isHopeless({ range }: Frame, { c }: Round): boolean {
  return c > HOPELESS_MISFIT * (range.hi - range.lo);
}
