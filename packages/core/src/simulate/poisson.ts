import { exp, log } from '../arithmetic/exponential.ts';
import type { RandomStream } from './random.ts';

/** Mean above which the rejection method is used; it needs 10 or more. */
const LARGE = 12;

/** A Poisson count of the given mean (>= 0). */
export function poisson(mean: number, random: RandomStream): number {
  if (!(mean > 0)) return 0;
  return mean < LARGE ? byProduct(mean, random) : byRejection(mean, random);
}

/** Counts uniforms until their product falls below exp(-mean). Source: D.E. Knuth, The Art of Computer Programming 2, 3.4.1. */
function byProduct(mean: number, random: RandomStream): number {
  const limit = exp(-mean);
  let count = 0;
  for (let product = random.uniform(); product > limit; product *= random.uniform()) count++;
  return count;
}

/** Transformed rejection with squeeze. Source: W. Hörmann, Insurance: Mathematics and Economics 12 (1993) 39, algorithm PTRS. */
function byRejection(mean: number, random: RandomStream): number {
  const b = 0.931 + 2.53 * Math.sqrt(mean);
  const a = -0.059 + 0.02483 * b;
  const inverseAlpha = 1.1239 + 1.1328 / (b - 3.4);
  const squeeze = 0.9277 - 3.6224 / (b - 2);
  const lnMean = log(mean);
  for (;;) {
    const u = random.uniform() - 0.5;
    const v = random.uniform();
    const us = 0.5 - Math.abs(u);
    const k = Math.floor(((2 * a) / us + b) * u + mean + 0.43);
    if (us >= 0.07 && v <= squeeze) return k;
    if (k < 0 || (us < 0.013 && v > us)) continue;
    if (log((v * inverseAlpha) / (a / (us * us) + b)) <= k * lnMean - mean - lnFactorial(k)) return k;
  }
}

/** ln k!: summed up to 15, Stirling's series beyond (error under 1e-10). */
export function lnFactorial(k: number): number {
  if (k < 16) {
    let sum = 0;
    for (let i = 2; i <= k; i++) sum += log(i);
    return sum;
  }
  const n = k + 1;
  const series = (1 / 12 - (1 / 360 - 1 / 1260 / (n * n)) / (n * n)) / n;
  return (n - 0.5) * log(n) - n + 0.5 * log(2 * Math.PI) + series;
}
