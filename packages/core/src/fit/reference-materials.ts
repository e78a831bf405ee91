import { symbolOf } from '../atomic/elements.ts';
import type { Believed, Lesson, RatioBelief, Taught } from '../model/instrument-knowledge.ts';
import { type AmountContradiction, layersTold, type KnownAmounts, type LayersTold } from './reference-layers.ts';

/** What one known material says beyond axis and resolution. */
export interface KnownEvidence extends KnownAmounts {
  /** Ratios as its counts have them, priors taken out. */
  readonly ratios: readonly RatioBelief[];
}

/** Ratios of lines differ between materials by as much (bonding, absorption); relative. */
const RATIO_SCATTER = 0.05;
/** A line cannot be missing altogether; relative. */
const LEAST_RATIO = -0.95;
/** A lesson must narrow a belief to this part of its uncertainty, or move it by half of that, to be worth telling. */
const WORTH_TELLING = 0.8;
/** Lessons, and the known materials whose amounts contradict their label: these teach nothing. */
export interface Lessons {
  readonly taught: Taught;
  readonly contradicted: ReadonlyMap<string, readonly AmountContradiction[]>;
}

/** What known materials teach of an instrument: line ratios of their elements, and layers in front of the crystal. */
export function lessonsOf(evidence: readonly KnownEvidence[]): Lessons {
  const told = layersTold(evidence);
  const contradicted = told?.contradicted ?? new Map<string, readonly AmountContradiction[]>();
  const layers = told ? layerLessons(told) : { layers: {}, lessons: [] };
  const { ratios, lessons } = ratioLessons(evidence.filter(({ by }) => !contradicted.has(by)));
  return { taught: { ratios, layers: layers.layers, lessons: [...layers.lessons, ...lessons] }, contradicted };
}

function layerLessons({ ice, window, by }: LayersTold): { layers: Taught['layers']; lessons: Lesson[] } {
  const worth = { iceUm: isWorthTelling(ice.before, ice.after), windowUm: isWorthTelling(window.before, window.after) };
  return {
    layers: {
      ...(worth.iceUm && { iceUm: ice.after.mean }),
      ...(worth.windowUm && { windowUm: window.after.mean }),
    },
    lessons: [
      ...(worth.iceUm ? [{ z: null, quantity: 'ice on the detector, um', by, ...ice }] : []),
      ...(worth.windowUm ? [{ z: null, quantity: 'window of the detector, um', by, ...window }] : []),
    ],
  };
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
    const after = { mean: Math.max(LEAST_RATIO, sum / weight), sigma: Math.max(RATIO_SCATTER, 1 / Math.sqrt(weight)) };
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
