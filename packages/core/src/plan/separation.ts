import type { MassFractions } from '../atomic/composition.ts';
import { symbolOf } from '../atomic/elements.ts';
import { designOf, weightsOf, type Design } from '../fit/design.ts';
import { USUAL_SUM_RATE, type Scene } from '../fit/expansion.ts';
import { eliminate, eliminatedAt, withoutColumns, type Elimination } from '../fit/eliminate.ts';
import { instrumentPrior } from '../fit/instrument-prior.ts';
import { normalEquations } from '../fit/normal.ts';
import { solveSubset } from '../fit/subset.ts';
import { differingLines } from '../identify/differing-lines.ts';
import { ownColumnsOf } from '../identify/nuisance-owners.ts';
import { addScaled } from '../model/column.ts';
import { detectedContinuum } from '../model/continuum.ts';
import { emissionUnder } from '../model/emission.ts';
import type { Instrument } from '../model/instrument.ts';
import { elementTemplate, lineAreas } from '../model/templates.ts';
import { fitRange } from '../peaks/fit-range.ts';

/** A measurement that could be made with the same instrument. */
export interface Measurement {
  readonly beamEv: number;
  readonly takeOffDeg: number;
  /** Counts in the fitted range. */
  readonly counts: number;
  readonly instrument: Instrument;
  readonly channels: number;
}

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
  readonly lines: readonly TellingLine[];
}

const NONE: Separation = { chiSquare: 0, lines: [] };

/**
 * How far a measurement would set a true explanation apart from a wrong one: the expected counts of the truth are explained by
 * the wrong set of elements, with its amounts, the background, the axis and every doubt about the physics free to follow. What
 * misfit remains is what counting cannot explain away (expected log-likelihood ratio, doubled; no noise is drawn).
 */
export function separation(truth: MassFractions, wrong: MassFractions, measurement: Measurement): Separation {
  const { instrument, channels, beamEv, takeOffDeg } = measurement;
  const emission = emissionUnder({ beamEv, takeOffDeg });
  const known = new Float64Array(channels).fill(1);
  const range = trustedRange(fitRange(known, instrument.axis, beamEv, false), instrument, truth, wrong);
  const zs = Array.from(truth.keys()).filter((z) => truth[z] > 0 || wrong[z] > 0);
  const areas = lineAreas(emission.lines(truth), instrument, zs);
  const seen = zs.filter((z) => isSeen(elementTemplate(z, areas, instrument, channels).column, range));
  const [isTrue, isWrong] = [truth, wrong].map((set) => seen.flatMap((z, e) => (set[z] > 0 ? [e] : [])));
  if (isTrue.length === 0 || isWrong.length === 0 || sameMembers(isTrue, isWrong)) return NONE;
  const { expected, dose, continuum } = measuredCounts(truth, measurement, range);
  const scene: Scene = { counts: expected, range: { ...range, behindHump: false }, emission };
  const at = {
    instrument,
    composition: truth,
    prior: instrumentPrior({ axis: instrument.axis, noiseEv: instrument.detector.noiseEv }, instrument),
    model: expected,
    backgroundLevel: dose * instrument.axis.gainEv,
    background: continuum,
    sumRate: USUAL_SUM_RATE,
  };
  const amounts = Float64Array.from(seen, (z) => dose * Math.max(truth[z], wrong[z]));
  const weights = weightsOf(expected, 0, range.lo, range.hi);
  const design = designOf(scene, seen, at, amounts, weights);
  const elimination = eliminate(
    normalEquations(design.layout.columns, expected, weights, range.lo, range.hi),
    design.layout.elements,
    design.prior,
  );
  const [best, other] = [isTrue, isWrong].map((members) => solved(design, elimination, members));
  const chiSquare = Math.max(0, other.chiSquare - best.chiSquare);
  return { chiSquare, lines: tellingLines(design, measurement, range, best.model, other.model, isTrue, isWrong) };
}

/** Below this a plan trusts nothing but boron and beryllium themselves, eV: noise edge, and L lines that are hardly tabulated. */
const TRUSTED_FROM_EV = 230;
const BORON = 5;

function trustedRange({ lo, hi }: Range, { axis }: Instrument, truth: MassFractions, wrong: MassFractions): Range {
  const aboutBoron = truth.some((fraction, z) => z <= BORON && fraction > 0 !== wrong[z] > 0);
  const trusted = Math.ceil((TRUSTED_FROM_EV - axis.offsetEv) / axis.gainEv);
  return { lo: aboutBoron ? lo : Math.max(lo, trusted), hi };
}

interface Range {
  readonly lo: number;
  readonly hi: number;
}

function isSeen(column: { readonly lo: number; readonly hi: number }, { lo, hi }: Range): boolean {
  return column.lo < hi && column.hi > lo && column.hi > column.lo;
}

const sameMembers = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, i) => value === b[i]);

/** Lines and continuum of a specimen, scaled together to the counts wanted. */
function measuredCounts(
  composition: MassFractions,
  { instrument, channels, beamEv, takeOffDeg, counts }: Measurement,
  { lo, hi }: Range,
): { expected: Float64Array; continuum: Float64Array; dose: number } {
  const emission = emissionUnder({ beamEv, takeOffDeg });
  const zs = Array.from(composition.keys()).filter((z) => composition[z] > 0);
  const areas = lineAreas(emission.lines(composition), instrument, zs);
  const expected = new Float64Array(channels);
  for (const z of zs) addScaled(expected, elementTemplate(z, areas, instrument, channels).column, composition[z]);
  const { counts: perEv } = detectedContinuum(emission, composition, instrument, channels, lo, hi);
  let total = 0;
  for (let i = lo; i < hi; i++) total += expected[i] += perEv[i] * instrument.axis.gainEv;
  const dose = counts / total;
  return {
    expected: expected.map((value, i) => (i < lo || i >= hi ? 0 : Math.max(1e-3, value * dose))),
    continuum: perEv.map((value) => value * instrument.axis.gainEv * dose),
    dose,
  };
}

/** The expected counts explained by some of the elements, the nuisances of the others struck out. */
function solved(
  { layout }: Design,
  elimination: Elimination,
  members: readonly number[],
): { chiSquare: number; model: Float64Array } {
  const own = ownColumnsOf(layout);
  const struck = [...own].flatMap(([e, columns]) => (members.includes(e) ? [] : columns)).sort((a, b) => a - b);
  const problem = withoutColumns(elimination, struck);
  const { x, objective } = solveSubset(problem, members);
  const coefficients = layout.joined(x, eliminatedAt(elimination, x, struck));
  return {
    chiSquare: objective + problem.constant,
    model: layout.expected(coefficients, layout.columns[0].values.length),
  };
}

function tellingLines(
  design: Design,
  { instrument }: Measurement,
  range: Range,
  best: Float64Array,
  other: Float64Array,
  isTrue: readonly number[],
  isWrong: readonly number[],
): TellingLine[] {
  const zs = design.layout.templates.flatMap(({ z }, e) => (isTrue.includes(e) === isWrong.includes(e) ? [] : [z]));
  return differingLines(zs, design.areas, instrument, range, best, other).map(
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
