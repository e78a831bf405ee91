import type { MassFractions } from '../atomic/composition.ts';
import { MAX_Z, zOf } from '../atomic/elements.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { withResolution } from '../detector/resolution-statement.ts';
import { CLASH_DEFAULTS, checkResolution, type ClashOptions } from '../peaks/clash.ts';
import { countsFor, type CountsNeeded } from './counts-for.ts';
import type { Measurement } from './comparison.ts';
import { separation, type TellingLine } from './separation.ts';

/** Conditions and amounts of a question about overlapping lines. */
export interface OverlapOptions extends ClashOptions {
  /** Counts in the fitted range; default 250_000. */
  readonly counts?: number;
  /** Parts by mass of each element; 1 where left out. */
  readonly amounts?: ReadonlyMap<string, number>;
}

/** One of the questions an overlap raises, and how far a measurement answers it. */
export interface OverlapQuestion extends CountsNeeded {
  /** `beside`: is the element there beside the others. `instead`: is it the element or are it the others. */
  readonly ask: 'beside' | 'instead';
  readonly symbol: string;
  readonly others: readonly string[];
  /** Expected standard deviations by which the counts tell: square root of the expected chi-square. */
  readonly sigma: number;
  /** Whether any line of what the explanations differ in is excited and recorded. */
  readonly recorded: boolean;
  /** Where the two explanations differ most. */
  readonly lines: readonly TellingLine[];
}

/** What a measurement can say of elements whose lines may fall together. */
export interface Overlap {
  readonly counts: number;
  /** Parts by mass, in the order of the elements. */
  readonly amounts: readonly number[];
  /** Elements that stand beside all of them in either explanation. */
  readonly neighbours: readonly string[];
  /** Beside the others, each; then instead of the others, each. */
  readonly questions: readonly OverlapQuestion[];
}

/** Counts where none are given: a measurement of a minute or two. */
export const OVERLAP_COUNTS = 250_000;

/** Paint holds carbon and oxygen; so much by mass beside the elements asked about (our choice: a grain in its binder). */
const NEIGHBOURS = [
  { symbol: 'C', massFraction: 0.1 },
  { symbol: 'O', massFraction: 0.2 },
];
const TAKE_OFF_DEG = 40;
const EV_PER_CHANNEL = 10;
const FEWEST_CHANNELS = 1024;

/** A present-day silicon detector of this resolution, on an axis that ends at the beam energy. */
export function usualMeasurement(beamKev: number, fwhmMnEv: number, counts: number): Measurement {
  return {
    beamEv: 1000 * beamKev,
    takeOffDeg: TAKE_OFF_DEG,
    counts,
    channels: Math.max(FEWEST_CHANNELS, Math.ceil((1000 * beamKev) / EV_PER_CHANNEL)),
    instrument: {
      axis: { offsetEv: 0, gainEv: EV_PER_CHANNEL },
      detector: withResolution(DEFAULT_DETECTOR, fwhmMnEv),
    },
  };
}

/**
 * Is each element there beside the others, and is it one or the others: expected of a thick, flat specimen that holds carbon and
 * oxygen besides, with axis, background and every doubt of the physics free to follow the wrong explanation.
 * @throws RangeError for an unknown symbol, one named twice, or conditions that make no sense
 */
export function overlapOf(elements: readonly string[], options: OverlapOptions = {}): Overlap {
  const { beamKev = CLASH_DEFAULTS.beamKev, fwhmMnEv = CLASH_DEFAULTS.fwhmMnEv, counts = OVERLAP_COUNTS } = options;
  checkResolution(fwhmMnEv);
  const amounts = elements.map((symbol) => options.amounts?.get(symbol) ?? 1);
  const neighbours = NEIGHBOURS.filter(({ symbol }) => !elements.includes(symbol));
  const measurement = usualMeasurement(beamKev, fwhmMnEv, counts);
  const of = (members: readonly string[]): MassFractions =>
    grainOf(
      members.map((symbol) => ({ symbol, massFraction: amounts[elements.indexOf(symbol)] })),
      neighbours,
    );
  const ask = (kind: OverlapQuestion['ask'], symbol: string): OverlapQuestion => {
    const others = elements.filter((other) => other !== symbol);
    const truth = of(kind === 'beside' ? elements : [symbol]);
    return { ask: kind, symbol, others, ...answered(truth, of(others), measurement) };
  };
  return {
    counts,
    amounts,
    neighbours: neighbours.map(({ symbol }) => symbol),
    questions: [
      ...elements.map((symbol) => ask('beside', symbol)),
      ...elements.map((symbol) => ask('instead', symbol)),
    ],
  };
}

/** How far a measurement tells a truth from another explanation, and the counts that would. */
export function answered(
  truth: MassFractions,
  wrong: MassFractions,
  measurement: Measurement,
): Pick<OverlapQuestion, 'sigma' | 'recorded' | 'lines'> & CountsNeeded {
  const { chiSquare, recorded, lines } = separation(truth, wrong, measurement);
  const needed = recorded ? countsFor(truth, wrong, measurement, chiSquare) : { countsNeeded: null, mostSigma: 0 };
  return { sigma: Math.sqrt(chiSquare), recorded, lines, ...needed };
}

interface Part {
  readonly symbol: string;
  readonly massFraction: number;
}

/** Elements in proportion, with their neighbours. */
function grainOf(members: readonly Part[], neighbours: readonly Part[]): MassFractions {
  const total = members.reduce((sum, { massFraction }) => sum + massFraction, 0);
  const left = neighbours.reduce((rest, { massFraction }) => rest - massFraction, 1);
  const out = new Float64Array(MAX_Z + 1);
  for (const { symbol, massFraction } of neighbours) out[zOf(symbol)!] = massFraction;
  for (const { symbol, massFraction } of members) out[zOf(symbol)!] = (left * massFraction) / total;
  return out;
}
