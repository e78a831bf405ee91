// Random grains, simulated with physics bent away from the fit's own, and how a reading of them is scored.
import { symbolOf } from '../../packages/core/src/atomic/elements.ts';
import { DEFAULT_DETECTOR } from '../../packages/core/src/detector/detector.ts';
import { weightsOf } from '../../packages/core/src/fit/design.ts';
import { cholesky, inverseFromCholesky } from '../../packages/core/src/fit/cholesky.ts';
import { normalEquations } from '../../packages/core/src/fit/normal.ts';
import { CANDIDATE_ELEMENTS, priorPenalty } from '../../packages/core/src/identify/candidates.ts';
import { backgroundColumns } from '../../packages/core/src/model/background.ts';
import { addScaled, columnOf, spreadOut, type Column } from '../../packages/core/src/model/column.ts';
import { detectedContinuum } from '../../packages/core/src/model/continuum.ts';
import { emissionUnder } from '../../packages/core/src/model/emission.ts';
import { channelEnergies } from '../../packages/core/src/model/instrument.ts';
import { elementTemplate, lineAreas } from '../../packages/core/src/model/templates.ts';
import { fitRange } from '../../packages/core/src/peaks/fit-range.ts';
import { randomStream, type RandomStream } from '../../packages/core/src/simulate/random.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';
import type { LimnerRecord, Spectrum } from '@limner/core';

/** Bent physics: one standard deviation each, or the most. What measured spectra showed is as large as there. */
export const BENT = {
  lineRatio: 0.1,
  family: 0.15,
  attenuation: 0.05,
  continuum: 0.1,
  noise: 0.05,
  tail: 0.3,
  window: 0.15,
  offsetEv: 4,
  gain: 0.001,
  mostSoftKBeta: 0.5,
  mostKBetaShiftEv: 3,
  mostKBetaWidth: 0.03,
  softShiftEv: 2,
  softWidth: 0.03,
  mostSatellite: 0.08,
  radiativeAuger: 0.7,
  wiggle: 0.015,
  mostDetectorAluminium: 5e-4,
  mostDetectorSilicon: 1.5e-3,
  phases: 1.5,
  mostSumShiftEv: 9,
};

export interface Grain {
  readonly name: string;
  readonly composition: Float64Array;
  readonly spectrum: Spectrum;
  /** Expected counts without noise, same bent physics. */
  readonly expected: Float64Array;
}

const TAKE_OFF_DEG = 40;
const BEAMS = [10, 15, 20, 25];
const COMMON = CANDIDATE_ELEMENTS.filter((z) => z > 4 && priorPenalty(z) <= 12);
/** Part of the elements drawn from the common ones. */
const COMMON_SHARE = 0.7;

/** A grain of 1 to 8 random elements, fractions log-uniform over three decades, 1e4 to 1e6 counts, 10 to 25 keV. */
export function randomGrain(seed: number, beams: readonly number[] = BEAMS): Grain {
  const random = randomStream(seed, 1);
  const count = 1 + Math.floor(8 * random.uniform());
  const composition = new Float64Array(99);
  for (let k = 0; k < count; k++) {
    const pool = random.uniform() < COMMON_SHARE ? COMMON : CANDIDATE_ELEMENTS.filter((z) => z > 4);
    composition[pick(pool, random)] = 10 ** (-3 * random.uniform());
  }
  const beamKev = pick(beams, random);
  const totalCounts = 10 ** (4 + 2 * random.uniform());
  return grainOf(`grain ${seed}`, composition, beamKev, totalCounts, seed);
}

/** A grain of given elements by mass, normalised. */
export function grainOf(name: string, masses: Float64Array, beamKev: number, totalCounts: number, seed: number): Grain {
  const sum = masses.reduce((a, b) => a + b, 0);
  const composition = masses.map((mass) => mass / sum);
  const conditions = { beamKev, takeOffDeg: TAKE_OFF_DEG, totalCounts, perturb: { seed: seed + 1, ...BENT } };
  return {
    name,
    composition,
    spectrum: simulate({ composition }, { ...conditions, seed }),
    expected: simulate({ composition }, { ...conditions, seed: null }).counts,
  };
}

function pick<T>(from: readonly T[], random: RandomStream): T {
  return from[Math.min(from.length - 1, Math.floor(from.length * random.uniform()))];
}

/**
 * How far each element of a grain stands above what everything else could explain: its amount over the standard deviation
 * that counting leaves it when every other candidate and the background are free.
 */
export function standingOf({ composition, spectrum, expected }: Grain): Map<number, number> {
  const { counts, axis, beamKev } = spectrum;
  const n = counts.length;
  const beamEv = beamKev! * 1000;
  const { lo, hi } = fitRange(counts, axis, beamEv);
  const instrument = { axis, detector: DEFAULT_DETECTOR };
  const emission = emissionUnder({ beamEv, takeOffDeg: TAKE_OFF_DEG });
  const areas = lineAreas(emission.lines(composition), instrument, CANDIDATE_ELEMENTS);
  const continuum = detectedContinuum(emission, composition, instrument, n, lo, hi).counts;
  const inRange = (values: Float64Array): number => values.subarray(lo, hi).reduce((a, b) => a + b, 0);
  const values = (column: Column): Float64Array => spreadOut(column, n);
  const templates = CANDIDATE_ELEMENTS.map((z) => ({ z, column: elementTemplate(z, areas, instrument, n).column }))
    .map(({ z, column }) => ({ z, area: inRange(values(column)), column }))
    .filter(({ area }) => area > 0);
  const columns = [
    ...templates.map(({ area, column }) => columnOf(values(column).map((value) => value / area))),
    ...backgroundColumns(continuum, channelEnergies(axis, n), lo, hi).map((column) =>
      columnOf(values(column).map((value) => value / Math.max(inRange(values(column)), 1e-300))),
    ),
  ];
  const { matrix } = normalEquations(columns, counts, weightsOf(expected, 0, lo, hi), lo, hi);
  const p = columns.length;
  for (let j = 0; j < p; j++) matrix[j * p + j] *= 1 + 1e-9;
  const covariance = inverseFromCholesky(cholesky(matrix, p), p);
  // Scale of amounts: what the whole composition would give against the counts there are above the continuum.
  const perFraction = scaleOf(templates, composition, continuum, expected, lo, hi);
  return new Map(
    templates.flatMap(({ z, area }, e) =>
      composition[z] > 0
        ? [[z, (composition[z] * area * perFraction) / Math.sqrt(covariance[e * p + e])] as const]
        : [],
    ),
  );
}

/** Counts per unit of emission, by least squares of the lines and the continuum on the expected counts. */
function scaleOf(
  templates: readonly { readonly z: number; readonly column: Column }[],
  composition: Float64Array,
  continuum: Float64Array,
  expected: Float64Array,
  lo: number,
  hi: number,
): number {
  const lines = new Float64Array(expected.length);
  for (const { z, column } of templates) {
    if (composition[z] > 0) addScaled(lines, column, composition[z]);
  }
  let [ll, lc, cc, ly, cy] = [0, 0, 0, 0, 0];
  for (let i = lo; i < hi; i++) {
    const w = 1 / Math.max(expected[i], 0.2);
    ll += w * lines[i] ** 2;
    lc += w * lines[i] * continuum[i];
    cc += w * continuum[i] ** 2;
    ly += w * lines[i] * expected[i];
    cy += w * continuum[i] * expected[i];
  }
  return (ly * cc - cy * lc) / (ll * cc - lc * lc);
}

export interface Score {
  readonly name: string;
  /** `present` and not in the grain. */
  readonly invented: readonly string[];
  /** Standing of 8 or more, and not `present`; with their verdicts. */
  readonly missed: readonly string[];
  readonly required: number;
  /** Majors (over 10 % mass, carbon apart) that are not `present`, with their verdicts. */
  readonly majorsMissed: readonly string[];
  /** `not-seen` although there is more of it than 1.5 times the detection limit that the record gives. */
  readonly denied: readonly string[];
  /** Told probability and truth of every element considered. */
  readonly told: readonly (readonly [number, boolean])[];
  readonly open: number;
}

/** Standing from which an element must be found. */
const REQUIRED = 8;
const MAJOR = 0.1;
/** Mass fractions, and so limits, are uncertain by the physics: some 35 % for L and M lines. */
const LIMIT_DOUBT = 1.5;

export function scoreOf(grain: Grain, record: LimnerRecord): Score {
  const standing = standingOf(grain);
  const verdictOf = (z: number): string => record.elements.find((element) => element.z === z)?.verdict ?? 'none';
  const lost = (zs: readonly number[]): string[] =>
    zs.filter((z) => verdictOf(z) !== 'present').map((z) => `${symbolOf(z)} ${verdictOf(z)}`);
  const inGrain = CANDIDATE_ELEMENTS.filter((z) => grain.composition[z] > 0);
  const required = inGrain.filter((z) => (standing.get(z) ?? 0) >= REQUIRED);
  return {
    name: grain.name,
    invented: record.elements
      .filter(({ z, verdict }) => verdict === 'present' && !(grain.composition[z] > 0))
      .map(({ symbol }) => symbol),
    missed: lost(required),
    required: required.length,
    majorsMissed: lost(inGrain.filter((z) => z !== 6 && grain.composition[z] > MAJOR)),
    denied: record.elements
      .filter(
        ({ z, verdict, limit }) =>
          verdict === 'not-seen' && limit && grain.composition[z] > LIMIT_DOUBT * limit.massFraction,
      )
      .map(({ symbol }) => symbol),
    told: record.elements
      .filter(({ verdict }) => verdict !== 'blind')
      .map(({ z, probability }) => [probability, grain.composition[z] > 0] as const),
    open: record.elements.filter(({ verdict }) => verdict === 'open').length,
  };
}
