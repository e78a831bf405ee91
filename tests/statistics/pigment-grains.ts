// Grains of known materials in resin, simulated with physics bent away from the fit's own, and how a reading of them is scored.
import { mixture } from '../../packages/core/src/atomic/composition.ts';
import { explain } from '../../packages/core/src/identify/explain.ts';
import { findingsOf } from '../../packages/core/src/identify/findings.ts';
import { knownLookalikes, materialById } from '../../packages/core/src/pigments/knowledge.ts';
import { matchGrain, type Match } from '../../packages/core/src/pigments/match.ts';
import { simulate } from '../../packages/core/src/simulate/simulate.ts';
import { BENT } from './grains.ts';

/**
 * What the amounts allow is judged here, not what is there: false Al and Si peaks of the detector, which let every material with a little
 * clay in, are left to the verdicts' own suites. (With them the median rises from 3 groups to 4.)
 */
const NO_DETECTOR_PEAKS = { mostDetectorAluminium: 0, mostDetectorSilicon: 0 };

export interface Paint {
  /** Materials with their parts of the pigment's mass. */
  readonly parts: readonly (readonly [id: string, part: number])[];
  readonly beamKev: number;
  readonly seed: number;
  readonly totalCounts?: number;
  /** Physics other than the fit's own; true. */
  readonly bent?: boolean;
}

/** An epoxy resin, by mass (bisphenol A diglycidyl ether), and its part of the whole. */
const RESIN = mixture([{ formula: 'C21H24O4', massFraction: 1 }]);
const RESIN_PART = 0.3;
/** Part of the whole that is not resin. */
export const PIGMENT_PART = 1 - RESIN_PART;
const TAKE_OFF_DEG = 40;

/** Simulates and reads a grain ground finely into resin. */
export function matchOf({ parts, beamKev, seed, totalCounts = 2e5, bent = true }: Paint): Match {
  const composition = RESIN.map(
    (resin, z) =>
      RESIN_PART * resin +
      PIGMENT_PART * parts.reduce((sum, [id, part]) => sum + part * materialById(id)!.fractions[z], 0),
  );
  const perturb = bent ? { perturb: { seed: seed + 1, ...BENT, ...NO_DETECTOR_PEAKS } } : {};
  const conditions = { beamKev, takeOffDeg: TAKE_OFF_DEG, totalCounts, seed, ...perturb };
  const explanation = explain(simulate({ composition }, conditions), {
    beamEv: beamKev * 1000,
    takeOffDeg: TAKE_OFF_DEG,
  });
  return matchGrain(findingsOf(explanation, new Map()));
}

export interface PaintScore {
  readonly name: string;
  /** Every true material is allowed, itself. */
  readonly itself: boolean;
  /** Every true material, or one that is said to be like it, is allowed. */
  readonly allowed: boolean;
  /** The first material is a true one, or one that is said to be like it. */
  readonly first: boolean;
  /** Groups of allowed materials, those that nothing could test apart. */
  readonly groups: number;
  readonly told: string;
}

export function scoreOf(paint: Paint, { pigments, explanations }: Match): PaintScore {
  const standing = (id: string) => pigments.find((pigment) => pigment.id === id)!;
  const isAllowed = (id: string): boolean => standing(id).standing === 'allowed';
  const like = (id: string): string[] => [id, ...knownLookalikes(id), ...standing(id).lookalikes];
  const ids = paint.parts.map(([id]) => id);
  const tested = pigments.filter(({ standing: what, deltaC }) => what === 'allowed' && deltaC !== null);
  return {
    name: `${paint.parts.map(([id, part]) => `${id} ${part}`).join(' + ')} at ${paint.beamKev} keV`,
    itself: ids.every(isAllowed),
    allowed: ids.every((id) => like(id).some(isAllowed)),
    first: ids.some((id) => like(id).includes(pigments[0].id)),
    groups: new Set(tested.map(({ group }) => group)).size,
    told: explanations
      .slice(0, 2)
      .map(({ parts, score }) => `${parts.map(({ name }) => name).join(' + ')} ${score}`)
      .join(' | '),
  };
}

/** Shares and medians of scores, with what failed by name. */
export function summaryOf(scores: readonly PaintScore[]) {
  const share = (test: (score: PaintScore) => boolean): number => scores.filter(test).length / scores.length;
  const groups = scores.map((score) => score.groups).sort((a, b) => a - b);
  return {
    cases: scores.length,
    itself: share(({ itself }) => itself),
    allowed: share(({ allowed }) => allowed),
    first: share(({ first }) => first),
    medianGroups: groups[groups.length >> 1],
    notAllowed: scores.filter(({ allowed }) => !allowed).map(({ name, told }) => `${name}: ${told}`),
    notFirst: scores.filter(({ first }) => !first).map(({ name, told }) => `${name}: ${told}`),
  };
}
