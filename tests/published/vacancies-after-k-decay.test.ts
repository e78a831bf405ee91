// L vacancies per K vacancy, n(KL), against decay data: tables of the Decay Data Evaluation Project (M.-M. Bé et al., Monographie
// BIPM-5), after E. Schönfeld, H. Janssen, Nucl. Instrum. Methods A 369 (1996) 527. Values from memory.
import { describe, expect, it } from 'vitest';
import { vacanciesLeft } from '../../packages/core/src/atomic/shells.ts';

describe('vacancies of L per vacancy of K', () => {
  // Allowed 3 %: K yields of the two sources differ by 1 to 2 %, and each per cent counts almost double.
  it.each([
    [25, 1.48],
    [26, 1.45],
    [56, 0.9],
  ])('z %i', (z, published) => {
    const ours = vacanciesLeft(z, 0, 1) + vacanciesLeft(z, 0, 2) + vacanciesLeft(z, 0, 3);
    expect(Math.abs(ours / published - 1)).toBeLessThan(0.03);
  });
});
