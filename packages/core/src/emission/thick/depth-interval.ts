import { exp, expm1 } from '../../arithmetic/exponential.ts';
import { type DepthDistribution, phiAt } from './depth-distribution.ts';

/** Below this number of decay lengths an interval counts as thin: the value in its middle is then exact to 1e-9. */
const THIN = 1e-4;
/** Beyond this many decay lengths nothing is left. */
const DEEP = 700;

/**
 * Photons of a distribution phi(rho z) that are made between two depths, g/cm2, and reach the upper one: the integral of
 * phi(z) exp(-chi (z - from)) from `from` to `to` (which may be Infinity). chi = (mu/rho) / sin(take-off), cm2/g.
 */
export function emergingBetween(distribution: DepthDistribution, from: number, to: number, chi: number): number {
  const width = to - from;
  if (!(width > 0)) return 0;
  if ((chi + Math.max(distribution.a, distribution.b)) * width < THIN)
    return Math.max(0, phiAt(distribution, from + width / 2)) * width * exp((-chi * width) / 2);
  const below = chi * width < DEEP ? exp(-chi * width) * emergingBelow(distribution, to, chi) : 0;
  return Math.max(0, emergingBelow(distribution, from, chi) - below);
}

/** The same for all below a depth. The exponentials may nearly coincide, with huge amplitudes: hence their difference. */
function emergingBelow(distribution: DepthDistribution, depth: number, chi: number): number {
  const { surface, a, b, amplitudeA, amplitudeB } = distribution;
  if (Math.max(a, b) * depth > DEEP) return 0;
  const inverse = 1 / (b + chi);
  const difference = (amplitudeA * (expm1((b - a) * depth) - (a - b) * inverse)) / (a + chi);
  return exp(-b * depth) * (difference + (surface + amplitudeB * (depth + inverse)) * inverse);
}
