import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../../atomic/composition.ts';
import { hardShare, meanPathExcess, pathExcess } from './straggling.ts';
import { uniform } from '../../../../../tests/fixtures/uniform.ts';

const SHARE = 0.124; // Cu at 15 keV

/**
 * Path per energy times S, by bins of 0.05 of the energy lost, of electrons that lose energy smoothly below LEAST and by single
 * Møller losses above it. Energies in units of the beam's; k = 1/E, S = k / SHARE.
 */
function simulated(electrons: number): number[] {
  const least = 0.003;
  const random = uniform(11);
  const path = new Array<number>(8).fill(0);
  const rate = (loss: number, e: number): number => 1 / loss ** 2 + 1 / (e - loss) ** 2 - 1 / (loss * (e - loss));
  // Integral of loss x rate from least to E/2, plus the smooth rest that makes S.
  const smooth = (e: number): number => {
    const large = Math.log(e / (2 * least)) + 1 - 2 * Math.LN2;
    return (1 / SHARE - large) / e;
  };
  for (let n = 0; n < electrons; n++) {
    let e = 1;
    while (e > 0.6) {
      // To the next proposed loss, of rate (1/least - 2/e)/e, in pieces short enough for the smooth loss.
      const total = (1 / least - 2 / e) / e;
      const step = Math.min(-Math.log(1 - random()) / total, 2e-4);
      path[Math.min(7, Math.floor((1 - e) / 0.05))] += step;
      const before = e;
      e -= smooth(e) * step;
      if (step === 2e-4) continue;
      const loss = 1 / (1 / least - random() * (1 / least - 2 / before));
      if (loss < before / 2 && random() < rate(loss, before) * loss ** 2) e -= loss;
    }
  }
  return path.map((sum, k) => sum / electrons / 0.05 / (SHARE * (1 - 0.05 * (k + 0.5))));
}

describe('straggling', () => {
  it('agrees with a simulation of single losses', () => {
    const found = simulated(20_000);
    for (let k = 1; k < found.length; k++) {
      const expected = 1 + SHARE * pathExcess(0.05 * (k + 0.5));
      expect(Math.abs(found[k] - expected), `bin ${k}: ${found[k]} against ${expected}`).toBeLessThan(0.02);
    }
    // In the first bin c k/S is no small number: first order is 0.08 short there.
    expect(Math.abs(found[0] - (1 + SHARE * meanPathExcess(0.05)))).toBeLessThan(0.1);
  });

  it('has the mean that its values have', () => {
    for (const lost of [0.02, 0.2, 0.5, 0.9]) {
      const n = 20_000;
      let sum = 0;
      for (let k = 0; k < n; k++) sum += pathExcess(((k + 0.5) * lost) / n) / n;
      expect(Math.abs(meanPathExcess(lost) - sum)).toBeLessThan(5e-3);
    }
  });

  it('is worth most where S is small: slow beams, heavy elements', () => {
    const [light, heavy] = ['C', 'Pb'].map((formula) => hardShare(massFractionsOf(formula), 20_000));
    expect(light).toBeLessThan(heavy);
    expect(hardShare(massFractionsOf('Pb'), 3000)).toBe(0.2);
    expect(Math.abs(hardShare(massFractionsOf('Cu'), 15_000) - SHARE)).toBeLessThan(0.003);
  });
});
