/**
 * Backscattered electrons per beam electron at normal incidence, from a mean atomic number.
 * Source: J.L. Pouchou, F. Pichoir in Electron Probe Quantitation (Plenum, 1991), p. 31.
 */
export function backscatterCoefficient(meanZ: number): number {
  return 0.00175 * meanZ + 0.37 * (1 - Math.exp(-0.015 * meanZ ** 1.3));
}
