import type { MassFractions } from '../atomic/composition.ts';
import { symbolOf } from '../atomic/elements.ts';
import { differingLines } from '../identify/differing-lines.ts';
import { compare, type Comparison, type Measurement } from './comparison.ts';

/** Where two explanations differ most: a line, and the counts around it under each. */
export interface TellingLine {
  readonly symbol: string;
  readonly line: string;
  readonly energyEv: number;
  readonly expectedIfTrue: number;
  readonly expectedIfNot: number;
  /** Difference in standard deviations of the counts. */
  readonly weight: number;
}

export interface Separation {
  /** Expected rise of chi-square under the wrong explanation, everything free refitted. */
  readonly chiSquare: number;
  /** Whether any line of what the explanations differ in is excited and recorded. */
  readonly recorded: boolean;
  readonly lines: readonly TellingLine[];
}

/**
 * How far a measurement would set a true explanation apart from a wrong one: the expected counts of the truth are explained by
 * the wrong set of elements, with its amounts, the background, the axis and every doubt about the physics free to follow. What
 * misfit remains is what counting cannot explain away (expected log-likelihood ratio, doubled; no noise is drawn).
 */
export function separation(truth: MassFractions, wrong: MassFractions, measurement: Measurement): Separation {
  const compared = compare(truth, wrong, measurement);
  return compared === null ? NOT_RECORDED : separationOf(compared, measurement);
}

export const NOT_RECORDED: Separation = { chiSquare: 0, recorded: false, lines: [] };

/** What a comparison of expected counts says. */
export const separationOf = (compared: Comparison, measurement: Measurement): Separation => ({
  chiSquare: riseOf(compared),
  recorded: true,
  lines: tellingLines(compared, measurement),
});

/** Rise of chi-square under the wrong explanation; never below 0, as where the wrong one holds all of the true. */
export const riseOf = ({ truth, wrong }: Comparison): number => Math.max(0, wrong.chiSquare - truth.chiSquare);

/** The lines at which two explanations of the same counts differ most. */
export function tellingLines(
  { design, range, truth, wrong, isTrue, isWrong }: Comparison,
  { instrument }: Measurement,
): TellingLine[] {
  const zs = design.layout.templates.flatMap(({ z }, e) => (isTrue.includes(e) === isWrong.includes(e) ? [] : [z]));
  return differingLines(zs, design.areas, instrument, range, truth.model, wrong.model).map(
    ({ group, energyEv, first, second, weight }) => ({
      symbol: symbolOf(group.z),
      line: group.name,
      energyEv,
      expectedIfTrue: first,
      expectedIfNot: second,
      weight,
    }),
  );
}
