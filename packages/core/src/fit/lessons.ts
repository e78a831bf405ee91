import { LINE_TABLE } from '../atomic/lines.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { Detector } from '../detector/detector.ts';
import { LAYER_DOUBTS } from '../model/continuum.ts';
import { efficiencyTable } from '../model/efficiency-table.ts';
import type { Believed, Lesson, RatioBelief, Taught } from '../model/instrument-knowledge.ts';
import { cholesky, inverseFromCholesky, solveCholesky } from './cholesky.ts';

/** An amount in a known material: found against stated, and how layers on the detector would change it. Plain data. */
export interface AmountEvidence {
  /** Natural logarithm of found over stated mass fraction, up to a constant of the spectrum. */
  readonly logRatio: number;
  /** Relative standard uncertainty, counting and physics. */
  readonly sigma: number;
  /** Change of ln(efficiency) for one standard uncertainty more of ice, and of window. */
  readonly byIce: number;
  readonly byWindow: number;
}

/** What one known material says beyond axis and resolution. */
export interface KnownEvidence {
  /** Name of its spectrum. */
  readonly by: string;
  readonly amounts: readonly AmountEvidence[];
  /** Ratios as its counts have them, priors taken out. */
  readonly ratios: readonly RatioBelief[];
}

/** Ratios of lines differ between materials by as much (bonding, absorption); relative. */
const RATIO_SCATTER = 0.05;
/** A lesson must narrow a belief to this part of its uncertainty, or move it by half of that, to be worth telling. */
const WORTH_TELLING = 0.8;
/** Window thickness that one standard uncertainty stands for, relative, and ice, um: as in LAYER_DOUBTS. */
const PER_SIGMA = { window: 0.25, iceUm: 0.1 };
/** Ice grows with the months of a cold detector to some tenths of a um (common practice, no source): in units of PER_SIGMA. */
const ICE_SIGMA = 3;

/** What known materials teach of an instrument: line ratios of their elements, and layers in front of the crystal. */
export function lessonsOf(evidence: readonly KnownEvidence[], usual: Detector): Taught {
  const { ratios, lessons } = ratioLessons(evidence);
  const layers = layerLessons(evidence, usual);
  return { ratios, layers: layers.layers, lessons: [...layers.lessons, ...lessons] };
}

/** Response of an element's detected counts to layers, from the areas of its lines. */
export function layerResponse(
  z: number,
  areas: Float64Array,
  detector: Detector,
): Pick<AmountEvidence, 'byIce' | 'byWindow'> {
  const usual = efficiencyTable(detector).lines;
  const by = (change: (detector: Detector) => Partial<Detector>): number => {
    const changed = efficiencyTable({ ...detector, ...change(detector) }).lines;
    let [sum, total] = [0, 0];
    for (let i = LINE_TABLE.first[z]; i < LINE_TABLE.first[z + 1]; i++) {
      if (!(areas[i] > 0)) continue;
      sum += areas[i] * Math.log(changed[i] / usual[i]);
      total += areas[i];
    }
    return total > 0 ? sum / total : 0;
  };
  return { byIce: by(LAYER_DOUBTS.ice), byWindow: by(LAYER_DOUBTS.window) };
}

function ratioLessons(evidence: readonly KnownEvidence[]): { ratios: RatioBelief[]; lessons: Lesson[] } {
  const told = new Map<string, { by: string; ratio: RatioBelief }[]>();
  for (const { by, ratios } of evidence) {
    for (const ratio of ratios) {
      const key = `${ratio.z} ${ratio.kind} ${ratio.label}`;
      told.set(key, [...(told.get(key) ?? []), { by, ratio }]);
    }
  }
  const ratios: RatioBelief[] = [];
  const lessons: Lesson[] = [];
  for (const all of told.values()) {
    const [{ ratio: first }] = all as [(typeof all)[number]];
    const before = { mean: 0, sigma: first.usualSigma };
    let weight = 1 / before.sigma ** 2;
    let sum = 0;
    for (const { ratio } of all) {
      const own = 1 / (ratio.sigma ** 2 + RATIO_SCATTER ** 2);
      weight += own;
      sum += own * ratio.mean;
    }
    const after = { mean: sum / weight, sigma: Math.max(RATIO_SCATTER, 1 / Math.sqrt(weight)) };
    if (!isWorthTelling(before, after)) continue;
    ratios.push({ ...first, ...after });
    const what = `${first.label} against its leading ${first.kind === 'group-ratio' ? 'line' : 'family'}`;
    lessons.push({
      z: first.z,
      quantity: `${symbolOf(first.z)} ${what}, relative`,
      by: all.map(({ by }) => by),
      before,
      after,
    });
  }
  return { ratios, lessons };
}

function isWorthTelling(before: Believed, after: Believed): boolean {
  const moved = Math.abs(after.mean - before.mean) > 0.5 * before.sigma;
  return after.sigma < before.sigma && (moved || after.sigma < WORTH_TELLING * before.sigma);
}

/** Least squares of the amounts' deviations on layers, each known material with a scale of its own; layers start at 0 ± 1. */
function layerLessons(
  evidence: readonly KnownEvidence[],
  { iceUm, windowUm, window }: Detector,
): { layers: Taught['layers']; lessons: Lesson[] } {
  const normal = Float64Array.of(1 / ICE_SIGMA ** 2, 0, 0, 1);
  const right = new Float64Array(2);
  for (const { amounts } of evidence) addAmounts(normal, right, amounts);
  const factor = cholesky(normal, 2);
  const covariance = inverseFromCholesky(factor, 2);
  solveCholesky(factor, 2, right);
  const by = evidence.filter(({ amounts }) => amounts.length > 1).map((known) => known.by);
  const belief = (i: number, from: number, perSigma: number, sigmas = 1): { before: Believed; after: Believed } => ({
    before: { mean: from, sigma: sigmas * perSigma },
    after: { mean: Math.max(0, from + right[i] * perSigma), sigma: Math.sqrt(covariance[i * 3]) * perSigma },
  });
  const lessons: Lesson[] = [];
  const layers: { iceUm?: number; windowUm?: number } = {};
  const ice = belief(0, iceUm, PER_SIGMA.iceUm, ICE_SIGMA);
  if (isWorthTelling(ice.before, ice.after)) {
    layers.iceUm = ice.after.mean;
    lessons.push({ z: null, quantity: 'ice on the detector, um', by, ...ice });
  }
  const film = belief(1, windowUm, PER_SIGMA.window * windowUm);
  if (window !== 'none' && isWorthTelling(film.before, film.after)) {
    layers.windowUm = film.after.mean;
    lessons.push({ z: null, quantity: 'window of the detector, um', by, ...film });
  }
  return { layers, lessons };
}

function addAmounts(normal: Float64Array, right: Float64Array, amounts: readonly AmountEvidence[]): void {
  let total = 0;
  const mean = [0, 0, 0];
  for (const { logRatio, sigma, byIce, byWindow } of amounts) {
    const w = 1 / sigma ** 2;
    total += w;
    [byIce, byWindow, logRatio].forEach((value, i) => (mean[i] += w * value));
  }
  for (const { logRatio, sigma, byIce, byWindow } of amounts) {
    const w = 1 / sigma ** 2;
    const [ice, film, y] = [byIce, byWindow, logRatio].map((value, i) => value - mean[i] / total) as [
      number,
      number,
      number,
    ];
    normal[0] += w * ice * ice;
    normal[1] += w * ice * film;
    normal[2] += w * ice * film;
    normal[3] += w * film * film;
    right[0] += w * ice * y;
    right[1] += w * film * y;
  }
}
