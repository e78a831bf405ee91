import { log } from '../arithmetic/exponential.ts';
import { eliminate } from './elimination.ts';
import { PRIORS } from './priors.ts';

/** More parts than any mixture has. */
const MOST_PARTS = 8;
const [POSTERIOR, INVERSES] = [new Float64Array(MOST_PARTS ** 2), new Float64Array(MOST_PARTS)];

/**
 * ln of what the shares of the parts say for a mixture: their prior, a log-normal about a fair share that does not count against larger
 * ones, times how much of it the amounts leave (Laplace's approximation): what is fixed narrowly was a sharper guess.
 * @param normal information that the amounts hold on the logarithms of the fractions, k × k
 */
export function lnSharesOf(fractions: Float64Array, normal: Float64Array): number {
  const k = fractions.length;
  const [fair, spread] = [PRIORS.share.value, PRIORS.shareSpread.value];
  let total = 0;
  for (let m = 0; m < k; m++) total += fractions[m];
  for (let i = 0; i < k * k; i++) POSTERIOR[i] = normal[i];
  let ln = k * PRIORS.shareFree.value;
  for (let m = 0; m < k; m++) {
    POSTERIOR[m * k + m] += 1 / spread ** 2;
    if (fractions[m] < fair * total) ln -= (log((fair * total) / fractions[m]) / spread) ** 2 / 2;
  }
  eliminate(POSTERIOR, k, k, INVERSES);
  let volume2 = 1;
  for (let m = 0; m < k; m++) volume2 *= INVERSES[m] / spread ** 2;
  return ln + log(volume2) / 2;
}
