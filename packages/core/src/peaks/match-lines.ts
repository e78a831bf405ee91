import { LINE_TABLE, lineAt, type Line, rowsNear } from '../atomic/lines.ts';
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
  const found: { readonly row: number; readonly order: number }[] = [];
  for (const { row, distance } of rowsNear(energyEv, windowEv)) {
    const [z, s] = [LINE_TABLE.z[row], LINE_TABLE.subshell[row]];
    const strength = LINE_TABLE.relative[row] * SUBSHELL_WEIGHT[s];
    if (admitted.has(z) && strength >= MIN_STRENGTH && edgeEv(z, s) < beamEv)
      found.push({ row, order: distance / windowEv - 0.7 * strength });
  }
  return found
    .sort(likeliestFirst)
    .slice(0, MOST)
    .map(({ row }) => candidateOf(lineAt(row), energyEv));
}

const likeliestFirst = (a: { order: number; row: number }, b: { order: number; row: number }): number =>
  a.order - b.order || LINE_TABLE.z[a.row] - LINE_TABLE.z[b.row];

function candidateOf({ symbol, z, iupac, siegbahn, energyEv, relative }: Line, peakEv: number): LineCandidate {
  return { symbol, z, line: iupac, siegbahn, energyEv, distanceEv: energyEv - peakEv, relative };
}
