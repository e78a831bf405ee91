// A reference and a grain that holds the same material, taken on one instrument whose physics is bent, each fitted with the
// elements that are in it: what a ratio measured against the reference is off by, and what it says of that itself.
import { atomicWeight, symbolOf, zOf } from '../../packages/core/src/atomic/elements.ts';
import { mixture } from '../../packages/core/src/atomic/composition.ts';
import type { MeasuredElement, ReferenceGrain } from '../../packages/core/src/evidence/reference-grain.ts';
import { referenceRatios, type ReferenceRatio } from '../../packages/core/src/evidence/reference-ratios.ts';
import { CANDIDATE_ELEMENTS } from '../../packages/core/src/identify/candidates.ts';
import { explain } from '../../packages/core/src/identify/explain.ts';
import { MATERIALS, type Material } from '../../packages/core/src/pigments/knowledge.ts';
import { randomStream, type RandomStream } from '../../packages/core/src/simulate/random.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';
import { BENT } from './grains.ts';

const TAKE_OFF_DEG = 40;
/** A facet of a grain leans: standard deviation of the angle at which its rays leave, degrees. Chosen. */
const LEANS_DEG = 4;
const BEAMS = [15, 20, 25];
const MEDIUM = 'C57H98O10';
/** An amount that is this many standard deviations is there. */
const PRESENT_FROM = 4;
/** Elements that a reference speaks of, as in core. */
const LEAST = 0.02;

export interface PairResult {
  readonly name: string;
  readonly ratio: ReferenceRatio;
  /** Atomic ratio as it was made. */
  readonly truth: number;
  /** ln of the ratio against the truth, in standard uncertainties. */
  readonly pull: number;
}

type Mass = readonly { readonly formula: string; readonly massFraction: number }[];

const heavy = ({ fractions }: Material): number[] =>
  [...fractions.keys()].filter((z) => z > 10 && fractions[z] >= LEAST);
const TAUGHT = MATERIALS.filter((material) => material.usualness !== 'rare' && heavy(material).length >= 2);
const BESIDE = MATERIALS.filter(({ usualness }) => usualness === 'common');

/** One pair: the reference pure, the grain 20 to 90 % of the same beside another material and medium. */
export function pairOf(seed: number, references = 1): PairResult | null {
  const random = randomStream(seed, 31);
  const material = pick(TAUGHT, random);
  const other = pick(BESIDE, random);
  const beamKev = pick(BEAMS, random);
  const [part, medium] = [0.2 + 0.7 * random.uniform(), 0.3 * random.uniform()];
  const grain = [
    ...scaled(material.composition, part * (1 - medium)),
    ...scaled(other.composition, (1 - part) * (1 - medium)),
    { formula: MEDIUM, massFraction: medium },
  ];
  const taken = (mass: Mass, k: number) => measured(mass, beamKev, seed, k, random);
  const stated = mixture(material.composition);
  const known = Array.from({ length: references }, (_, k): ReferenceGrain => ({
    name: `reference ${k + 1}`,
    label: material.id,
    beamKev,
    takeOffDeg: TAKE_OFF_DEG,
    stated: [...stated.keys()].filter((z) => stated[z] > 0).map((z) => ({ z, massFraction: stated[z] })),
    elements: taken(material.composition, k + 1),
    contradictions: [],
  }));
  const [ratio] = referenceRatios(known, taken(grain, 0)).filter(
    ({ numerator, denominator }) => numerator !== 'O' && denominator !== 'O',
  );
  if (ratio === undefined) return null;
  const truth = atomsIn(mixture(grain), ratio.numerator, ratio.denominator);
  const pull = (Math.log(ratio.value.value / truth) * ratio.value.value) / ratio.value.sigma;
  return { name: `${material.id} in ${other.id}, ${beamKev} keV`, ratio, truth, pull };
}

function measured(
  composition: Mass,
  beamKev: number,
  seed: number,
  k: number,
  random: RandomStream,
): MeasuredElement[] {
  const totalCounts = 10 ** (4.3 + 1.2 * random.uniform());
  const takeOffDeg = TAKE_OFF_DEG + LEANS_DEG * random.normal();
  const spectrum = simulate(
    { composition },
    { beamKev, takeOffDeg, totalCounts, seed: 1000 * seed + k, perturb: { seed: seed + 1, ...BENT } },
  );
  const fractions = mixture(composition);
  const without = CANDIDATE_ELEMENTS.filter((z) => !(fractions[z] > 0));
  const conditions = { beamEv: beamKev * 1000, takeOffDeg: TAKE_OFF_DEG, without, compared: false };
  const fitted = [...explain(spectrum, conditions).fitted.values()];
  const total = fitted.reduce((sum, { amount }) => sum + amount, 0);
  return fitted.map(({ z, amount, sigma, countsPerAmount }) => ({
    symbol: symbolOf(z),
    z,
    present: amount > PRESENT_FROM * sigma,
    counts: { value: amount * countsPerAmount, sigma: sigma * countsPerAmount },
    massFraction: amount / total,
    line: null,
  }));
}

const atomsIn = (fractions: ArrayLike<number>, above: string, below: string): number => {
  const moles = (symbol: string): number => fractions[zOf(symbol)!] / atomicWeight(zOf(symbol)!);
  return moles(above) / moles(below);
};

const scaled = (composition: Mass, by: number): Mass =>
  composition.map(({ formula, massFraction }) => ({ formula, massFraction: massFraction * by }));

function pick<T>(from: readonly T[], random: RandomStream): T {
  return from[Math.min(from.length - 1, Math.floor(from.length * random.uniform()))];
}
