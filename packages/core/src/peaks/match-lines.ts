import { linesNear } from '../atomic/lines.ts';
import { edgeEv } from '../atomic/shells.ts';
import type { LineCandidate } from './peak.ts';

/** Most candidates told per peak. */
const MOST = 8;
/** Lines weaker than this inside their subshell make no peak of their own. */
const MIN_RELATIVE = 0.05;

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
    .filter((line) => admitted.has(line.z) && line.relative >= MIN_RELATIVE && edgeEv(line.z, line.subshell) < beamEv)
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
      order: Math.abs(line.energyEv - energyEv) / windowEv - 0.5 * line.relative,
    }))
    .sort((a, b) => a.order - b.order || a.candidate.z - b.candidate.z)
    .slice(0, MOST)
    .map(({ candidate }) => candidate);
}
