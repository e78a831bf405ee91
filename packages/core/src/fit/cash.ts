import { exp, log } from '../arithmetic/exponential.ts';
import { Scratch } from '../arithmetic/scratch.ts';
import { sumOver } from '../arithmetic/sum.ts';

/**
 * Cash statistic C = 2 Σ [m − n + n ln(n/m)] over channels [lo, hi); the logarithm's term is 0 where n = 0.
 * Differences follow chi-square.
 * @param counts n, >= 0   @param model m, > 0
 * Source: W. Cash, Astrophys. J. 228 (1979) 939.
 */
export function cash(counts: Float64Array, model: Float64Array, lo: number, hi: number): number {
  let sum = 0;
  for (let i = lo; i < hi; i++) {
    const n = counts[i];
    const m = model[i];
    sum += n > 0 ? m - n + n * log(n / m) : m;
  }
  return 2 * sum;
}

/** Means below this are summed exactly over the Poisson distribution; above, the published approximation is used. */
const EXACT_BELOW = 10;

/**
 * Expectation and variance of one channel's contribution to C when its mean is `mu`.
 * Exact Poisson sum below 10 counts; above, for the mean the approximation of Kaastra, Astron. Astrophys. 605 (2017) A51
 * (1 + 0.1649/μ + 0.226/μ²), for the variance an expansion fitted here to the exact sum (within 0.5 % from 10 counts up).
 */
export function cashMoments(mu: number): { mean: number; variance: number } {
  if (mu <= 0) return { mean: 0, variance: 0 };
  return mu > EXACT_BELOW ? { mean: nearMean(mu), variance: nearVariance(mu) } : exactMoments(mu);
}

const nearMean = (mu: number): number => 1 + 0.1649 / mu + 0.226 / mu ** 2;
const nearVariance = (mu: number): number => 2 + 0.6667 / mu + 1.9 / mu ** 2;

function exactMoments(mu: number): { mean: number; variance: number } {
  let probability = exp(-mu);
  let mean = 0;
  let square = 0;
  const last = Math.ceil(mu + 12 * Math.sqrt(mu) + 25);
  for (let n = 0; n <= last; n++) {
    if (n > 0) probability *= mu / n;
    const c = 2 * (n > 0 ? mu - n + n * log(n / mu) : mu);
    mean += probability * c;
    square += probability * c * c;
  }
  return { mean, variance: square - mean * mean };
}

/** Puts those of channels [lo, hi) in their places. */
export function putCashMoments(
  mean: Float64Array,
  variance: Float64Array,
  model: Float64Array,
  lo: number,
  hi: number,
): void {
  for (let i = lo; i < hi; i++) {
    const mu = model[i];
    if (mu > EXACT_BELOW) [mean[i], variance[i]] = [nearMean(mu), nearVariance(mu)];
    else ({ mean: mean[i], variance: variance[i] } = cashMoments(mu));
  }
}

const [MEAN, VARIANCE] = [new Scratch(), new Scratch()];

/** Expectation and variance of C over channels [lo, hi) were the model true. */
export function expectedCash(model: Float64Array, lo: number, hi: number): { mean: number; variance: number } {
  const [mean, variance] = [MEAN.of(model.length), VARIANCE.of(model.length)];
  putCashMoments(mean, variance, model, lo, hi);
  return { mean: sumOver(mean, lo, hi), variance: sumOver(variance, lo, hi) };
}
