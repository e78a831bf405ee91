import { expect, it } from 'vitest';
import { inventedMaterial } from '../../../../tests/fixtures/invented-material.ts';
import { MAX_Z, zOf } from '../atomic/elements.ts';
import type { Amount, Evidence } from './evidence.ts';
import { isWorthTrying } from './room.ts';

const amount = (symbol: string, kind: Amount['kind'], value: number): Amount => ({
  ...{ symbol, z: zOf(symbol)!, kind, seen: true, value, counting: 0.01, physics: 0.2, limit: null },
});
function evidence(...amounts: readonly Amount[]): Evidence {
  const place = new Int16Array(MAX_Z + 1).fill(-1);
  amounts.forEach(({ z }, i) => (place[z] = i));
  return { amounts, place, joint: { places: [], counting: new Float64Array(0), physics: new Float64Array(0) } };
}
/** So much room for a material that is half iron, or what is said, and a fifth carbon. */
const worth = (most: number, kind: Amount['kind'] = 'measured', symbol = 'Fe'): boolean =>
  isWorthTrying(
    inventedMaterial({ [symbol]: 0.5, C: 0.2 }, symbol),
    { most, scarcest: null },
    evidence(amount(symbol, kind, 0.4), amount('C', 'at-most', 0.01)),
  );

it('a material is worth trying where it could hold three tenths of an element that tells', () => {
  // Room for 0.24 / (0.5 exp(0.2)), the physics granted, would hold 0.12 of 0.4 iron.
  const limit = (0.3 * 0.4) / (0.5 * Math.exp(0.2));
  expect([worth(1.01 * limit), worth(0.99 * limit)]).toEqual([true, false]);
  expect(worth(1, 'at-most')).toBe(true);
  expect(worth(1, 'not-seen')).toBe(false);
  // Carbon does not tell, however much of it the material could hold.
  expect(worth(1, 'measured', 'O')).toBe(false);
});
