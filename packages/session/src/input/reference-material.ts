import { fixed, type MassFractions, massFractionsOf, mixture } from '@limner/core';

/** A part of a mixture: a formula, a space, and its percentage by mass. */
const PART = /^(\S+)\s+(\d+(?:\.\d+)?)\s*%?$/;
/** Outside these sums of percentages, something is missing from the list or wrong. */
const LEAST_SUM = 90;
const MOST_SUM = 110;

/**
 * Mass fractions of a reference material as the sample sheet states it: a formula ('PbCO3', 'Cu'), or formulas with percentages by mass
 * ('SiO2 72.1; Na2O 13.4; CaO 9.2').
 * @throws Error that says what is wrong
 */
export function referenceMaterial(text: string): MassFractions {
  const parts = text
    .split(/[;,]/)
    .map((part) => part.trim())
    .filter((part) => part !== '');
  const [only] = parts;
  if (only !== undefined && parts.length === 1 && !/\s/.test(only)) return massFractionsOf(only);
  const read = parts.map((part) => {
    const [, formula, percent] = PART.exec(part) ?? [];
    if (formula === undefined) throw new Error(`'${part}' is not a formula with a percentage; write it like SiO2 72.1`);
    return { formula, massFraction: Number(percent) / 100 };
  });
  const sum = 100 * read.reduce((total, { massFraction }) => total + massFraction, 0);
  if (!(sum >= LEAST_SUM && sum <= MOST_SUM)) {
    throw new Error(`the percentages add up to ${fixed(sum, 1)}, not to 100; give all parts, by mass`);
  }
  return mixture(read);
}
