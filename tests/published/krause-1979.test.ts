// Source: M.O. Krause, J. Phys. Chem. Ref. Data 8 (1979) 307: fluorescence yields, written down from memory. Krause states
// 10 % and more for the K yields below Z = 20, 5 % to 30, 3 % to 40, 2 % above; 10 to 20 % for L3 (less for heavy atoms).
import { describe, expect, it } from 'vitest';
import { fluorescenceYield } from '../../packages/core/src/atomic/shells.ts';

const K = 0;
const L3 = 3;

describe('Krause 1979', () => {
  it.each([
    [11, 0.023, 0.1],
    [13, 0.039, 0.1],
    [14, 0.05, 0.1],
    [16, 0.078, 0.1],
    [20, 0.163, 0.1],
    [22, 0.214, 0.06],
    [26, 0.34, 0.05],
    [29, 0.44, 0.05],
    [30, 0.474, 0.05],
    [38, 0.69, 0.03],
    [42, 0.765, 0.02],
    [47, 0.831, 0.02],
    [50, 0.862, 0.02],
    [56, 0.902, 0.02],
  ])('K yield, z %i', (z, published, allowed) => {
    expect(Math.abs(fluorescenceYield(z, K) / published - 1)).toBeLessThan(allowed);
  });

  it.each([
    [47, 0.052],
    [50, 0.064],
    [56, 0.097],
    [74, 0.255],
    [79, 0.32],
    [82, 0.36],
    [92, 0.489],
  ])('L3 yield, z %i', (z, published) => {
    expect(Math.abs(fluorescenceYield(z, L3) / published - 1)).toBeLessThan(0.1);
  });
});
