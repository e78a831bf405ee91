import { edgeEv } from '../atomic/shells.ts';
import type { Detector } from './detector.ts';
import { addLine, lineShape, type Axis } from './line-shape.ts';

/**
 * Radiative-Auger bands, broad bumps below a K line: part of the energy of the decay goes to an outer electron, which takes its
 * binding energy and some speed. KLL lies below all K lines of Na to Ti, KMM below K beta of K to Br.
 * Source: T. Åberg, J. Utriainen, Phys. Rev. Lett. 22 (1969) 1346 (from memory) for the effect; sizes and shapes are own
 * measurements on open spectra of silicates, carbonates and steels.
 */
export interface RadiativeAuger {
  readonly name: 'KLL' | 'KMM';
  /** What names of parent lines begin with, and the elements that show the band: elsewhere it is too weak or too wide. */
  readonly parents: string;
  readonly firstZ: number;
  readonly lastZ: number;
  /** Subshell whose edge scales the band; centre below the line and standard deviation in units of that edge. */
  readonly subshell: number;
  readonly below: number;
  readonly spread: number;
  /** Counts per count of the parent line. */
  readonly fraction: number;
}

const L3 = 3;
const M1 = 4;

export const RADIATIVE_AUGER: readonly RadiativeAuger[] = [
  // 0.2 ± 0.2 % in silicates; Si alone 0.3 to 0.6 %, Ca 0.25 ± 0.15 %.
  { name: 'KLL', parents: 'K-', firstZ: 11, lastZ: 22, subshell: L3, below: 1.7, spread: 0.4, fraction: 0.002 },
  // Fe 1.2 ± 0.3 % of K beta in steels; no other element was measured, so half of it stands for all.
  { name: 'KMM', parents: 'K-M', firstZ: 19, lastZ: 35, subshell: M1, below: 1.3, spread: 0.5, fraction: 0.006 },
];

/** The bands below a line. @param iupac e.g. 'K-L3' */
export function radiativeAugerOf(z: number, iupac: string): RadiativeAuger[] {
  return RADIATIVE_AUGER.filter(({ parents, firstZ, lastZ }) => iupac.startsWith(parents) && z >= firstZ && z <= lastZ);
}

/**
 * Adds a band as a Gaussian: the spread of the band beside the resolution.
 * @param areaCounts counts of the band itself
 */
export function addRadiativeAuger(
  out: Float64Array,
  axis: Axis,
  detector: Detector,
  { subshell, below, spread }: RadiativeAuger,
  z: number,
  lineEv: number,
  areaCounts: number,
): void {
  const edge = edgeEv(z, subshell);
  const shape = lineShape(detector, lineEv - below * edge);
  addLine(out, axis, { ...shape, sigmaEv: Math.hypot(shape.sigmaEv, spread * edge), tail: 0 }, areaCounts);
}
