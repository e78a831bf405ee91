import { LINE_TABLE } from '../atomic/lines.ts';
import { oxygenPerMass } from '../atomic/oxides.ts';
import { FAMILY_DOUBT, softDoubt } from '../model/groups.ts';
import type { FittedElement } from '../fit/fitted-elements.ts';
import type { MassFraction } from './finding.ts';

/**
 * Relative uncertainty of an element's intensity by the physics alone (cross section, yield, absorption, efficiency): that of its
 * family, and below 1 keV absorption and window 25 %, below 2 keV 8 %.
 */
export function physicsUncertainty(z: number, areas: Float64Array): number {
  let strongest = LINE_TABLE.first[z];
  for (let i = strongest; i < LINE_TABLE.first[z + 1]; i++) if (areas[i] > areas[strongest]) strongest = i;
  const subshell = LINE_TABLE.subshell[strongest];
  const family = FAMILY_DOUBT[subshell === 0 ? 'K' : subshell <= 3 ? 'L' : 'M'];
  return Math.hypot(family, softDoubt(LINE_TABLE.energyEv[strongest]));
}

/** How the amount of oxygen is told: by its own line, or as what the other elements hold in their usual oxides. */
export type OxygenBy = 'line' | 'oxides';

const OXYGEN = 8;

/**
 * Standardless mass fractions of the fitted elements, normalised to 1: hydrogen and what has no line here are left out of the sum.
 * For w = a/Σa: dw = w [(1 − w) da/a − Σ_other w_f da_f/a_f], all da independent; counting and physics are told apart.
 */
export function massFractions(
  fitted: readonly FittedElement[],
  areas: Float64Array,
  oxygen: OxygenBy = 'line',
): Map<number, MassFraction> {
  const elements = oxygen === 'oxides' ? withOxides(fitted) : fitted;
  let total = 0;
  for (const { amount } of elements) total += amount;
  const value = new Float64Array(elements.length);
  const byCounting = new Float64Array(elements.length);
  const byPhysics = new Float64Array(elements.length);
  for (let i = 0; i < elements.length; i++) {
    const { z, amount, sigma } = elements[i];
    value[i] = amount / total;
    byCounting[i] = sigma / amount;
    byPhysics[i] = physicsUncertainty(z, areas);
  }
  const out = new Map<number, MassFraction>();
  for (let i = 0; i < elements.length; i++) {
    const [counting, physics] = [spread(value, byCounting, i), spread(value, byPhysics, i)];
    out.set(elements[i].z, { value: value[i], sigma: Math.hypot(counting, physics), counting, physics });
  }
  return out;
}

/** Standard uncertainty of one fraction by relative ones of all amounts. */
function spread(fractions: Float64Array, relative: Float64Array, i: number): number {
  let variance = 0;
  for (let j = 0; j < fractions.length; j++)
    variance += ((j === i ? 1 - fractions[j] : fractions[j]) * relative[j]) ** 2;
  return fractions[i] * Math.sqrt(variance);
}

/** The same elements with oxygen as their usual oxides hold it. */
function withOxides(fitted: readonly FittedElement[]): readonly Pick<FittedElement, 'z' | 'amount' | 'sigma'>[] {
  const others = fitted.filter(({ z }) => z !== OXYGEN);
  const held = others.map(({ z, amount, sigma }) => ({
    amount: amount * oxygenPerMass(z),
    sigma: sigma * oxygenPerMass(z),
  }));
  const amount = held.reduce((sum, part) => sum + part.amount, 0);
  if (!(amount > 0)) return fitted;
  return [{ z: OXYGEN, amount, sigma: Math.hypot(...held.map((part) => part.sigma)) }, ...others];
}
