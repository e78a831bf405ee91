import type { MassFractions } from '../atomic/composition.ts';
import type { Design } from '../fit/design.ts';
import type { Scene } from '../fit/expansion.ts';
import type { AmountsProblem, Elimination } from '../fit/eliminate.ts';
import type { Instrument } from '../model/instrument.ts';
import type { OwnColumns } from './nuisance-owners.ts';
import type { Hypothesis } from './search.ts';

/** One round's linear problem, solved: every column, its coefficient, and the explanation chosen. */
export interface Round {
  readonly instrument: Instrument;
  readonly composition: MassFractions;
  /** The linear model; its templates are in the order of the explanation's element indices. */
  readonly design: Design;
  readonly elimination: Elimination;
  readonly own: OwnColumns;
  /** The amounts problem with the nuisances of absent elements struck out, and which those are. */
  readonly problem: AmountsProblem;
  readonly struck: readonly number[];
  readonly hypothesis: Hypothesis;
  /** Coefficients in the order of the layout. */
  readonly coefficients: Float64Array;
  /** Continuum part of the model, counts per channel. */
  readonly background: Float64Array;
  /** Expected counts per channel. */
  readonly model: Float64Array;
  /** Cash statistic over the range plus the penalties of the set and the prior's share: what rounds are compared by. */
  readonly merit: number;
  readonly c: number;
}

/** Everything that stays fixed while one spectrum is explained. */
export interface Frame extends Scene {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  readonly penalty: Float64Array;
  /** A settling is given up once the model is far from the counts. */
  readonly brief?: boolean;
  /** Merit of another explanation of the same counts: a settling that comes nowhere near it is given up. */
  readonly toBeat?: number;
}

/** Misfit (C per channel) from which the counts are no spectrum that the model knows. */
const HOPELESS_MISFIT = 12;

/** Whether a round's model is so far from the counts that a long search would only dress up the misfit. */
export function isHopeless({ range }: Frame, { c }: Round): boolean {
  return c > HOPELESS_MISFIT * (range.hi - range.lo);
}

/** Chi-square of a round's model over the range, with an error relative to it granted beside counting. */
export function chiSquareUnder({ counts, range }: Frame, { model }: Round, relativeError: number): number {
  let sum = 0;
  for (let i = range.lo; i < range.hi; i++) {
    const m = Math.max(model[i], 1);
    sum += (counts[i] - m) ** 2 / (m + (relativeError * m) ** 2);
  }
  return sum;
}
