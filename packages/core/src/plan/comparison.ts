import type { MassFractions } from '../atomic/composition.ts';
import { designOf, weightsOf, type Design } from '../fit/design.ts';
import { eliminate, eliminatedAt, withoutColumns, type Elimination } from '../fit/eliminate.ts';
import { USUAL_SUM_RATE, type Scene } from '../fit/expansion.ts';
import { instrumentPrior } from '../fit/instrument-prior.ts';
import { normalEquations } from '../fit/normal.ts';
import { solveSubset, type SubsetSolution } from '../fit/subset.ts';
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

/** Channels [lo, hi). */
export interface Range {
  readonly lo: number;
  readonly hi: number;
}

/** Counts explained by some of the elements; amounts by index into the design's templates. */
export interface Explained extends Pick<SubsetSolution, 'members' | 'x' | 'covariance'> {
  /** Relative to that of the other explanation of the same counts. */
  readonly chiSquare: number;
  readonly coefficients: Float64Array;
  /** Expected counts per channel. */
  readonly model: Float64Array;
}

/** The same counts under a true and a wrong explanation, in one linear model. */
export interface Comparison {
  readonly design: Design;
  readonly range: Range;
  /** Counts explained, per channel. */
  readonly counts: Float64Array;
  /** 1 / variance per channel. */
  readonly weights: Float64Array;
  /** Elements of each explanation, by index into the templates. */
  readonly isTrue: readonly number[];
  readonly isWrong: readonly number[];
  readonly truth: Explained;
  readonly wrong: Explained;
}

/**
 * The expected counts of a true composition explained by its elements and by those of a wrong one, amounts, background, axis and
 * every doubt about the physics free; null where no line of what the two differ in is recorded.
 */
export function compare(truth: MassFractions, wrong: MassFractions, measurement: Measurement): Comparison | null {
  const prepared = prepare(truth, wrong, measurement);
  return prepared && explained(prepared, prepared.expected);
}

/** The same of the expected counts and of counts drawn of such a specimen, per channel. */
export function compareDrawn(
  truth: MassFractions,
  wrong: MassFractions,
  measurement: Measurement,
  drawn: Float64Array,
): { readonly expected: Comparison; readonly drawn: Comparison } | null {
  const prepared = prepare(truth, wrong, measurement);
  return prepared && { expected: explained(prepared, prepared.expected), drawn: explained(prepared, drawn) };
}

/** The linear model that both explanations are parts of; weights are those of what is expected, so that low counts weigh no more. */
interface Prepared extends Pick<Comparison, 'design' | 'range' | 'weights' | 'isTrue' | 'isWrong'> {
  readonly expected: Float64Array;
}

function prepare(truth: MassFractions, wrong: MassFractions, measurement: Measurement): Prepared | null {
  const { instrument, channels, beamEv, takeOffDeg } = measurement;
  const emission = emissionUnder({ beamEv, takeOffDeg });
  const range = rangeOf(truth, wrong, measurement);
  const zs = Array.from(truth.keys()).filter((z) => truth[z] > 0 || wrong[z] > 0);
  const areas = lineAreas(emission.lines(truth), instrument, zs);
  const seen = zs.filter((z) => isSeen(elementTemplate(z, areas, instrument, channels).column, range));
  const [isTrue, isWrong] = [truth, wrong].map((set) => seen.flatMap((z, e) => (set[z] > 0 ? [e] : [])));
  if (isTrue.length === 0 || isWrong.length === 0 || sameMembers(isTrue, isWrong)) return null;
  const { expected: bare, dose, continuum } = measuredCounts(truth, measurement, range);
  const scene: Scene = { counts: bare, range: { ...range, behindHump: false }, emission };
  const at = {
    instrument,
    composition: truth,
    prior: instrumentPrior({ axis: instrument.axis, noiseEv: instrument.detector.noiseEv }, instrument),
    model: bare,
    backgroundLevel: dose * instrument.axis.gainEv,
    background: continuum,
    sumRate: USUAL_SUM_RATE,
  };
  const amounts = Float64Array.from(seen, (z) => dose * Math.max(truth[z], wrong[z]));
  const design = designOf(scene, seen, at, amounts, weightsOf(bare, 0, range.lo, range.hi));
  const expected = withArtefacts(bare, design, range);
  return { design, range, expected, weights: weightsOf(expected, 0, range.lo, range.hi), isTrue, isWrong };
}

function explained({ design, range, weights, isTrue, isWrong }: Prepared, counts: Float64Array): Comparison {
  const elimination = eliminate(
    normalEquations(design.layout.columns, counts, weights, range.lo, range.hi),
    design.layout.elements,
    design.prior,
  );
  const [truth, wrong] = [isTrue, isWrong].map((members) => solved(design, elimination, members, counts.length));
  return { design, range, weights, isTrue, isWrong, counts, truth, wrong };
}

/** Below this a plan trusts nothing but boron and beryllium themselves, eV: noise edge, and L lines that are hardly tabulated. */
const TRUSTED_FROM_EV = 230;
const BORON = 5;

/** Channels that a measurement of these explanations is judged on. */
export function rangeOf(
  truth: MassFractions,
  wrong: MassFractions,
  { instrument: { axis }, channels, beamEv }: Measurement,
): Range {
  const { lo, hi } = fitRange(new Float64Array(channels).fill(1), axis, beamEv, false);
  const aboutBoron = truth.some((fraction, z) => z <= BORON && fraction > 0 !== wrong[z] > 0);
  const trusted = Math.ceil((TRUSTED_FROM_EV - axis.offsetEv) / axis.gainEv);
  return { lo: aboutBoron ? lo : Math.max(lo, trusted), hi };
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

/** With what the detector adds, at the sizes expected of it: so that the true explanation is right about these too. */
function withArtefacts(expected: Float64Array, { layout }: Design, { lo, hi }: Range): Float64Array {
  const out = expected.slice();
  for (const { column, prior } of layout.artefacts) if (prior) addScaled(out, column, prior.mean);
  return out.map((value, i) => (i < lo || i >= hi ? 0 : value));
}

/** Counts explained by some of the elements, the nuisances of the others struck out. */
function solved({ layout }: Design, elimination: Elimination, members: readonly number[], channels: number): Explained {
  const own = ownColumnsOf(layout);
  const struck = [...own].flatMap(([e, columns]) => (members.includes(e) ? [] : columns)).sort((a, b) => a - b);
  const problem = withoutColumns(elimination, struck);
  const solution = solveSubset(problem, members);
  const coefficients = layout.joined(solution.x, eliminatedAt(elimination, solution.x, struck));
  return {
    members: solution.members,
    x: solution.x,
    covariance: solution.covariance,
    chiSquare: solution.objective + problem.constant,
    coefficients,
    model: layout.expected(coefficients, channels),
  };
}
