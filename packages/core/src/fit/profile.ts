import { bandedOf } from '../arithmetic/banded.ts';
import { picked } from '../arithmetic/pick.ts';
import { addScaled } from '../model/column.ts';
import { fitPoisson } from './poisson.ts';
import type { PoissonFit, PoissonProblem } from './poisson-problem.ts';

/** Ends of a profile-likelihood interval; the lower end may be the coefficient's bound. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

const MAX_STEPS = 40;
/** Rise of the penalised C is met within this part of itself. */
const PRECISION = 1e-4;

/**
 * Profile-likelihood interval of one coefficient: all values for which the penalised C, the other coefficients fitted anew,
 * rises by no more than `rise`. Unlike a symmetric interval it respects bounds and few counts.
 * @param j coefficient without a prior of its own
 * @param rise 1 for 68 %, 3.84 for 95 %
 * Source: S.S. Wilks, Ann. Math. Stat. 9 (1938) 60; for counts W. Cash, Astrophys. J. 228 (1979) 939.
 */
export function profileInterval(problem: PoissonProblem, fit: PoissonFit, j: number, rise = 1): Interval {
  const rest = withoutColumn(problem, j);
  const best = fit.coefficients[j];
  const at = (value: number): number => rest(value, fit) - fit.penalised;
  const sigma = Math.sqrt(fit.covariance[j * fit.coefficients.length + j]);
  const scale = sigma > 0 ? sigma : Math.max(1, Math.abs(best));
  const bound = problem.lower[j];
  const low = Number.isFinite(bound) && at(bound) <= rise ? bound : edge(at, best, -scale, bound, rise);
  return { low, high: edge(at, best, scale, -Infinity, rise) };
}

/** Where the rise meets its target on one side: the root of sqrt(rise), which is nearly straight, between brackets. */
function edge(at: (value: number) => number, best: number, scale: number, bound: number, rise: number): number {
  const target = Math.sqrt(rise);
  const height = (value: number): number => Math.sqrt(Math.max(0, at(value))) - target;
  let inside = best;
  let outside = best + scale * target;
  let [insideHeight, outsideHeight] = [-target, 0];
  for (let step = 0; step < MAX_STEPS; step++) {
    outside = Math.max(outside, bound);
    outsideHeight = height(outside);
    if (outsideHeight >= 0) break;
    [inside, insideHeight] = [outside, outsideHeight];
    outside = best + 2 * (outside - best);
  }
  let value = outside;
  for (let step = 0; step < MAX_STEPS && outsideHeight > PRECISION * target; step++) {
    // Regula falsi with the middle as safeguard.
    const straight = inside + ((outside - inside) * -insideHeight) / (outsideHeight - insideHeight);
    value = step % 3 === 2 ? 0.5 * (inside + outside) : straight;
    const found = height(value);
    if (Math.abs(found) <= PRECISION * target) return value;
    if (found > 0) [outside, outsideHeight] = [value, found];
    else [inside, insideHeight] = [value, found];
  }
  return value;
}

/** The penalised C of the best other coefficients as a function of this one's value. */
function withoutColumn(problem: PoissonProblem, j: number): (value: number, fit: PoissonFit) => number {
  const others = problem.columns.flatMap((_, k) => (k === j ? [] : [k]));
  const lower = picked(problem.lower, others);
  const prior = problem.prior && {
    precision: bandedOf(problem.prior.precision, others),
    precisionMean: picked(problem.prior.precisionMean, others),
  };
  return (value, fit) => {
    const fixed = problem.fixed?.slice() ?? new Float64Array(problem.counts.length);
    addScaled(fixed, problem.columns[j], value);
    const columns = others.map((k) => problem.columns[k]);
    const start = picked(fit.coefficients, others);
    return fitPoisson({ ...problem, columns, lower, prior, fixed }, start).penalised;
  };
}
