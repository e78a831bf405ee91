import { exp, log } from '../arithmetic/exponential.ts';
import type { Finding } from '../identify/finding.ts';
import { FAMILY_DOUBT, type Family, softDoubt } from '../model/groups.ts';

/**
 * How the errors of the measured amounts hang together. Matrices m × m, row-major, in the order of `places`: what the fit of the
 * counts says of overlaps, and what the physics has in common.
 */
export interface Joint {
  /** Places in the evidence's amounts. */
  readonly places: readonly number[];
  /** Covariance of the amounts by counting, mass fraction squared; the diagonal is 0: each amount states its own. */
  readonly counting: Float64Array;
  /** Covariance of ln(amount) by the physics. */
  readonly physics: Float64Array;
}

/** However well references tell an amount: specimens of a material differ by as much. Chosen. */
const LEAST_REFERENCED = 0.15;
/** A grain is no flat, even, thick specimen: relative standard deviation of an amount from that. Common practice, no source. */
const SETTING = 0.15;
/** Part of a family's doubt that no neighbouring line shares, relative: amounts by K lines of neighbours agree by as much between two forward models. */
const OWN = 0.05;
/** Correlations of one row add up to less than this, so that the matrix stays positive definite: weak ones are not in the findings. */
const MOST_OF_ROW = 0.95;

/** What lies behind the amount of one element, relative standard deviations of it. */
export interface Doubt {
  readonly own: number;
  /** Cross sections and yields that its family of lines has in common. */
  readonly family: number;
  /** Absorption, window, shape of the grain: shared by lines of like energy, whatever their family. */
  readonly shared: number;
  readonly line: Family;
  readonly energyEv: number;
}

/**
 * Doubt of a standardless amount by its strongest line: that of its family; absorption and window below 1 keV 25 %, below
 * 2 keV 8 %; the shape of the grain 15 %. Reference grains tell it better.
 */
export function doubtOf({ referenced, lines: [strongest] }: Finding): Doubt {
  const energyEv = strongest?.energyEv ?? 1000;
  const line = (strongest?.line[0] ?? 'L') as Family;
  if (referenced !== undefined)
    return { own: Math.max(LEAST_REFERENCED, referenced), family: 0, shared: 0, line, energyEv };
  const family = Math.sqrt(FAMILY_DOUBT[line] ** 2 - OWN ** 2);
  return { own: OWN, family, shared: Math.hypot(SETTING, softDoubt(energyEv)), line, energyEv };
}

export const totalOf = ({ own, family, shared }: Doubt): number => Math.hypot(own, family, shared);

/**
 * What errors of two amounts have in common dies out with the distance of their lines in ln E: absorption and shape for all lines,
 * cross sections and yields within a family.
 */
function common(a: Doubt, b: Doubt): number {
  const near = exp(-Math.abs(log(a.energyEv / b.energyEv)));
  return near * (a.shared * b.shared + (a.line === b.line ? a.family * b.family : 0));
}

/** @param sigma standard deviation of each amount by counting alone, mass fraction, in the order of the findings */
export function jointOf(findings: readonly Finding[], sigma: readonly number[], places: readonly number[]): Joint {
  const m = findings.length;
  const doubts = findings.map(doubtOf);
  const [counting, physics] = [new Float64Array(m * m), new Float64Array(m * m)];
  const correlation = (i: number, j: number): number =>
    i === j ? 0 : (findings[i].correlations.find(({ symbol }) => symbol === findings[j].symbol)?.value ?? 0);
  const shrunk = findings.map((_, i) => {
    const row = findings.reduce((sum, _other, j) => sum + Math.abs(correlation(i, j)), 0);
    return Math.min(1, MOST_OF_ROW / row);
  });
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) {
      counting[i * m + j] = Math.min(shrunk[i], shrunk[j]) * correlation(i, j) * sigma[i] * sigma[j];
      physics[i * m + j] = i === j ? totalOf(doubts[i]) ** 2 : common(doubts[i], doubts[j]);
    }
  return { places, counting, physics };
}
