import { linesNear, type Line } from '../atomic/lines.ts';
import { edgeEv } from '../atomic/shells.ts';
import type { LineCandidate } from './peak.ts';

/** Most candidates told per peak. */
const MOST = 8;
/** Lines weaker than this against the strongest of their family make no peak of their own. */
const MIN_STRENGTH = 0.05;
/**
 * What a subshell's vacancies and yield are worth in its family, K; L1-L3; M1-M5 (common practice, no source; the usual
 * line weights: Lβ1 0.7, Lβ3 0.08, Mβ 0.6, Mγ 0.05 of the strongest).
 */
const SUBSHELL_WEIGHT = [1, 0.15, 0.6, 1, 0.02, 0.03, 0.1, 0.65, 1];

/**
 * Lines that could make a peak, nearest and strongest first: ordered by distance in units of the window less what the
 * line's intensity is worth. Elements a peak cannot be (noble gases, without stable isotopes) are the caller's to bar.
 * @param windowEv half width of the search, eV   @param beamEv lines of edges above it are not excited; Infinity if unknown
 */
export function linesForPeak(
  energyEv: number,
  windowEv: number,
  admitted: ReadonlySet<number>,
  beamEv: number,
): LineCandidate[] {
  return linesNear(energyEv, windowEv)
    .filter((line) => admitted.has(line.z) && strength(line) >= MIN_STRENGTH && edgeEv(line.z, line.subshell) < beamEv)
    .map((line) => ({
      candidate: {
        symbol: line.symbol,
        z: line.z,
        line: line.iupac,
        siegbahn: line.siegbahn,
        energyEv: line.energyEv,
        distanceEv: line.energyEv - energyEv,
        relative: line.relative,
      },
      order: Math.abs(line.energyEv - energyEv) / windowEv - 0.7 * strength(line),
    }))
    .sort((a, b) => a.order - b.order || a.candidate.z - b.candidate.z)
    .slice(0, MOST)
    .map(({ candidate }) => candidate);
}

function strength({ relative, subshell }: Line): number {
  return relative * SUBSHELL_WEIGHT[subshell];
}
