import { edgeEv } from '../atomic/shells.ts';
import type { Detector } from './detector.ts';
import { addLine, lineShape, type Axis } from './line-shape.ts';

const L3 = 3;
const [FIRST_Z, LAST_Z] = [11, 22];
/** Counts of the bump per count of its line: 0.2 +- 0.2 %, fits to measured silicates. */
const FRACTION = 0.002;
/** Centre below the line and standard deviation, in units of the L3 edge: the electron takes its binding energy and some speed. */
const CENTRE = 1.7;
const SPREAD = 0.4;

/** Counts of the radiative-Auger satellite per count of a K line: 0.2 % for Na to Ti, 0 elsewhere (too weak or too wide to show). */
export function radiativeAugerFraction(z: number): number {
  return z >= FIRST_Z && z <= LAST_Z ? FRACTION : 0;
}

/**
 * Adds the radiative-Auger satellite of a K line, a broad bump below it: part of the energy goes to an L electron.
 * A Gaussian at E - 1.7 E(L3), standard deviation 0.4 E(L3) beside the resolution.
 * @param areaCounts counts of the K line itself
 * Source: T. Aberg, J. Utriainen, Phys. Rev. Lett. 22 (1969) 1346 (from memory) for the effect; size and shape measured.
 */
export function addRadiativeAuger(
  out: Float64Array,
  axis: Axis,
  detector: Detector,
  z: number,
  energyEv: number,
  areaCounts: number,
): void {
  const fraction = radiativeAugerFraction(z);
  if (fraction === 0) return;
  const edge = edgeEv(z, L3);
  const shape = lineShape(detector, energyEv - CENTRE * edge);
  addLine(out, axis, { ...shape, sigmaEv: Math.hypot(shape.sigmaEv, SPREAD * edge), tail: 0 }, areaCounts * fraction);
}
