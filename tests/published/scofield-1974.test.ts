// Source: J.H. Scofield, Phys. Rev. A 9 (1974) 1041: Kβ/Kα with exchange, written down from memory. Measurements scatter by
// 3 to 5 % around it from Ca to Zn (chemistry moves it as much).
import { describe, expect, it } from 'vitest';
import { linesOf } from '../../packages/core/src/atomic/lines.ts';

describe('Scofield 1974, Kβ/Kα within 5 %', () => {
  it.each([
    [20, 0.1315],
    [22, 0.1355],
    [24, 0.1337],
    [26, 0.1391],
    [29, 0.1379],
    [30, 0.141],
  ])('z %i', (z, published) => {
    const sum = (upper: RegExp) =>
      linesOf(z)
        .filter(({ iupac }) => upper.test(iupac))
        .reduce((total, { relative }) => total + relative, 0);
    expect(Math.abs(sum(/^K-[MN]/) / sum(/^K-L/) / published - 1)).toBeLessThan(0.05);
  });
});
