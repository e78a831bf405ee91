import type { MassFractions } from '../atomic/composition.ts';
import { oxygenPerMass } from '../atomic/oxides.ts';
import type { Instrument } from '../model/instrument.ts';

const OXYGEN = 8;

/** Behind a thick window no oxygen is seen, but it absorbs all the same. */
export function hidesOxygen({ detector }: Instrument): boolean {
  return detector.window === 'beryllium';
}

/**
 * Amounts normalised to mass fractions; the matrix before where there is nothing.
 * @param oxides with the oxygen of the elements' usual oxides, where none was fitted
 */
export function fractions(
  zs: readonly number[],
  amounts: Float64Array,
  before: MassFractions,
  oxides = false,
): MassFractions {
  const out: MassFractions = new Float64Array(before.length);
  const withOxygen = oxides && !zs.some((z, e) => z === OXYGEN && amounts[e] > 0);
  zs.forEach((z, e) => {
    out[z] += amounts[e];
    if (withOxygen) out[OXYGEN] += amounts[e] * oxygenPerMass(z);
  });
  const total = out.reduce((sum, amount) => sum + amount, 0);
  return total > 0 ? out.map((amount) => amount / total) : before;
}
