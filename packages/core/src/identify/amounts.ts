import { LINE_TABLE } from '../atomic/lines.ts';
import type { FittedElement } from '../fit/fitted-elements.ts';
import type { Measured } from './finding.ts';

/**
 * Relative uncertainty of an element's intensity by the physics alone (cross section, yield, absorption, efficiency).
 * Deviations of measured from calculated cross sections are about 11 % rms (Llovet et al., J. Phys. Chem. Ref. Data 43
 * (2014) 013102, abstract); L yields add about 20 %, M yields 35 %; below 1 keV absorption and window add 20 %.
 */
export function physicsUncertainty(z: number, areas: Float64Array): number {
  let strongest = LINE_TABLE.first[z];
  for (let i = strongest; i < LINE_TABLE.first[z + 1]; i++) if (areas[i] > areas[strongest]) strongest = i;
  const subshell = LINE_TABLE.subshell[strongest];
  const family = subshell === 0 ? 0.08 : subshell <= 3 ? 0.2 : 0.35;
  const soft = LINE_TABLE.energyEv[strongest] < 1000 ? 0.25 : LINE_TABLE.energyEv[strongest] < 2000 ? 0.08 : 0;
  return Math.hypot(family, soft);
}

/**
 * Standardless mass fractions of the fitted elements, normalised to 1, with counting and physics in sigma.
 * For w = a/Σa: dw = w [(1 − w) da/a − Σ_other w_f da_f/a_f], all da independent.
 */
export function massFractions(fitted: readonly FittedElement[], areas: Float64Array): Map<number, Measured> {
  const total = fitted.reduce((sum, { amount }) => sum + amount, 0);
  const out = new Map<number, Measured>();
  const relative = fitted.map(({ z, amount, sigma }) => Math.hypot(sigma / amount, physicsUncertainty(z, areas)));
  fitted.forEach(({ z, amount }, i) => {
    const w = amount / total;
    let variance = ((1 - w) * relative[i]) ** 2;
    fitted.forEach((other, j) => {
      if (j !== i) variance += ((other.amount / total) * relative[j]) ** 2;
    });
    out.set(z, { value: w, sigma: w * Math.sqrt(variance) });
  });
  return out;
}
