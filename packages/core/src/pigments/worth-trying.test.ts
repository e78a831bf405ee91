import { expect, it } from 'vitest';
import { MAX_Z, zOf } from '../atomic/elements.ts';
import type { Amount, Evidence } from './evidence.ts';
import type { Part } from './part.ts';
import { Fits } from './fits.ts';
import { isWorthTrying, leastLoss } from './search.ts';
import { PRIORS } from './priors.ts';
import { evidenceOf } from './evidence.ts';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { MATERIALS } from './knowledge.ts';
import { partOf } from './part.ts';

const amount = (symbol: string, kind: Amount['kind'], value: number): Amount => ({
  ...{ symbol, z: zOf(symbol)!, kind, seen: true, value, counting: 0.01, physics: 0.2, limit: null },
});
const evidence = (...amounts: readonly Amount[]): Evidence => ({
  amounts,
  place: new Int16Array(MAX_Z + 1),
  joint: { places: [], counting: new Float64Array(0), physics: new Float64Array(0) },
});
/** A material that is half iron and a fifth carbon, of which so much may be there. */
const part = (most: number): Part =>
  ({ places: Int32Array.of(0, 1), holds: Float64Array.of(0.5, 0.2), room: { most } }) as unknown as Part;
const worth = (most: number, kind: Amount['kind'] = 'measured', symbol = 'Fe'): boolean =>
  isWorthTrying(part(most), evidence(amount(symbol, kind, 0.4), amount('C', 'at-most', 0.01)));

it('a material is worth trying where it could hold three tenths of an element that tells', () => {
  // Room for 0.24 / (0.5 exp(0.2)), the physics granted, would hold 0.12 of 0.4 iron.
  const limit = (0.3 * 0.4) / (0.5 * Math.exp(0.2));
  expect([worth(1.01 * limit), worth(0.99 * limit)]).toEqual([true, false]);
  expect(worth(1, 'at-most')).toBe(true);
  expect(worth(1, 'not-seen')).toBe(false);
  // Carbon does not tell, however much of it the material could hold.
  expect(worth(1, 'measured', 'O')).toBe(false);
});

it('what is lost without a part is its likelihood, whatever a part costs', () => {
  const seen = evidenceOf(findingsOf({ ZnO: 0.5, HgS: 0.4 }));
  const [zinc, vermilion, chalk] = ['zinc-white', 'vermilion', 'chalk'].map((id) =>
    partOf(
      MATERIALS.find((one) => one.id === id)!,
      seen,
    ),
  );
  const fits = new Fits(seen);
  const both = fits.of([zinc, vermilion]);
  const losses = [zinc, vermilion].map((left) => both.lnAmounts - fits.of([left]).lnAmounts - PRIORS.part.value);
  expect(leastLoss(both, fits)).toBeCloseTo(Math.min(...losses), 9);
  expect(leastLoss(both, fits)).toBeGreaterThan(5);
  expect(leastLoss(fits.of([zinc, vermilion, chalk]), fits)).toBeLessThan(1);
  // However the parts are ordered, they are one mixture, fitted once.
  expect(fits.of([vermilion, zinc])).toBe(both);
  expect(fits.all()).toContain(both);
});
