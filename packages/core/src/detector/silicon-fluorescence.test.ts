import { describe, expect, it } from 'vitest';
import { randomStream } from '../simulate/random.ts';
import { DEFAULT_DETECTOR, type Detector } from './detector.ts';
import { efficiency } from './efficiency.ts';
import { SILICON } from './layers.ts';
import { siliconFluorescence, siliconFluorescenceCounts } from './silicon-fluorescence.ts';
import { SILICON_K_ALPHA_EV, SILICON_K_PHOTONS } from './silicon-k.ts';

const BARE: Detector = { ...DEFAULT_DETECTOR, window: 'none', deadLayerUm: 0.1 };

describe('siliconFluorescence', () => {
  it('begins at the Si K edge, falls with energy and grows with the dead layer', () => {
    expect(siliconFluorescence(BARE, 1830)).toBe(0);
    let before = Infinity;
    for (let ev = 1850; ev < 30_000; ev *= 1.1) {
      expect(siliconFluorescence(BARE, ev)).toBeLessThan(before);
      before = siliconFluorescence(BARE, ev);
      const thinner = siliconFluorescence({ ...BARE, deadLayerUm: 0.05 }, ev);
      expect(Math.abs(before / thinner - 2)).toBeLessThan(0.08);
    }
  });

  it('never counts a photon twice: with the efficiency it stays below 1', () => {
    for (const ev of [1850, 2500, 6000, 15_000]) {
      const thick = { ...BARE, deadLayerUm: 2 };
      expect(siliconFluorescence(thick, ev) + efficiency(thick, ev)).toBeLessThan(1);
    }
  });

  it.each([0.05, 0.1, 0.4])('is what random photons in a dead layer of %d um do', (deadLayerUm) => {
    const random = randomStream(5, 0);
    const [n, mu, own] = [200_000, SILICON(2000), SILICON(SILICON_K_ALPHA_EV)];
    let through = 0;
    for (let i = 0; i < n; i++) {
      // Depths of the photons that are absorbed in the layer; half the emission goes inwards.
      const depth = -Math.log(1 - random.uniform() * -Math.expm1(-mu * deadLayerUm)) / mu;
      const cosine = random.uniform();
      if (random.uniform() < Math.exp((-own * (deadLayerUm - depth)) / cosine)) through++;
    }
    const expected = (-0.5 * SILICON_K_PHOTONS * Math.expm1(-mu * deadLayerUm) * through) / n;
    expect(Math.abs(siliconFluorescence({ ...BARE, deadLayerUm }, 2000) / expected - 1)).toBeLessThan(0.01);
  });

  it('adds a nitride window and the grid behind it', () => {
    const film: Detector = { ...DEFAULT_DETECTOR, window: 'silicon-nitride', windowUm: 0.1, aluminiumNm: 0 };
    const polymer: Detector = { ...film, window: 'polymer' };
    expect(siliconFluorescence(film, 2000)).toBeGreaterThan(1.2 * siliconFluorescence(polymer, 2000));
    // Hard photons come through the bars.
    expect(siliconFluorescence(polymer, 14_000)).toBeGreaterThan(
      2 * siliconFluorescence({ ...polymer, openFraction: 1 }, 14_000),
    );
  });

  it('of a spectrum is the sum over its photons', () => {
    const energies = Float64Array.of(1000, 2000, 4000);
    expect(siliconFluorescenceCounts(BARE, energies, Float64Array.of(5, 100, 10))).toBeCloseTo(
      100 * siliconFluorescence(BARE, 2000) + 10 * siliconFluorescence(BARE, 4000),
      12,
    );
  });
});
