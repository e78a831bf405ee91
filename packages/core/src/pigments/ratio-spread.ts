import { exp, log } from '../arithmetic/exponential.ts';
import { BERYLLIUM } from '../detector/layers.ts';
import { softDoubt } from '../model/groups.ts';
import type { Finding } from '../identify/finding.ts';

/** One element's part in a side. */
export interface Term {
  readonly finding: Finding;
  /** d ln(side) / d ln(amount), above the line positive. */
  readonly weight: number;
  /** Relative standard deviation. */
  readonly counting: number;
  readonly seen: boolean;
}

/** A grain is no flat, even, thick specimen: relative standard deviation of an amount from that. Common practice, no source. */
const SETTING = 0.15;

/** A thick window is 7 to 25 um of beryllium (common practice, no source), and 8 um are assumed: the rms deviation of an even spread from that. */
const WINDOW_UM = 9.5;

/** Relative standard deviations of a ratio. */
export interface Spread {
  readonly counting: number;
  readonly physics: number;
}

/** Variance of ln(above) - ln(below); amounts are correlated by overlap, by the grain and by a thick window that nothing is known of. */
export function spreadOf(above: readonly Term[], below: readonly Term[], unknownWindow: boolean): Spread {
  const terms = [...above, ...below.map((term) => ({ ...term, weight: -term.weight }))];
  let [counting, physics, window] = [0, 0, 0];
  for (const a of terms) {
    if (a.seen && unknownWindow) window += a.weight * BERYLLIUM(energyOf(a.finding)) * WINDOW_UM;
    for (const b of terms) {
      const [weight, same] = [a.weight * b.weight, a === b];
      counting += weight * a.counting * b.counting * (same ? 1 : correlation(a.finding, b.finding));
      if (a.seen && b.seen)
        physics += weight * (setting(a.finding, b.finding) + (same ? ownPhysics(a.finding) ** 2 : 0));
    }
  }
  const root = (variance: number): number => Math.sqrt(Math.max(0, variance));
  return { counting: root(counting), physics: Math.hypot(root(physics), window) };
}

/** Correlation of two amounts by overlap; small ones are not in the findings. */
function correlation(a: Finding, b: Finding): number {
  return a.correlations.find(({ symbol }) => symbol === b.symbol)?.value ?? 0;
}

/** The shape of a grain takes lines of like energy alike: its part in the covariance dies out with the distance in ln E. Chosen. References have it in their scatter. */
function setting(a: Finding, b: Finding): number {
  if (a.referenced !== undefined && b.referenced !== undefined) return 0;
  return SETTING ** 2 * exp(-Math.abs(log(energyOf(a) / energyOf(b))));
}

const energyOf = ({ lines: [strongest] }: Finding): number => strongest?.energyEv ?? 1000;

/**
 * Relative doubt of an amount by its strongest line, apart from its setting. Cross sections 11 % rms (Llovet et al., J. Phys. Chem.
 * Ref. Data 43 (2014) 013102, abstract); L yields add about 20 %, M yields 35 %; absorption and window 25 % below 1 keV, 8 %
 * below 2 keV.
 */
function ownPhysics(finding: Finding): number {
  if (finding.referenced !== undefined) return finding.referenced;
  const shell = finding.lines[0]?.line[0] ?? 'L';
  const family = shell === 'K' ? 0.11 : shell === 'L' ? 0.2 : 0.35;
  return Math.hypot(family, softDoubt(energyOf(finding)));
}
