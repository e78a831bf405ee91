import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR, type Detector } from './detector.ts';
import { efficiencies, efficiency } from './efficiency.ts';
import { escapeRatio } from './escape.ts';
import { fwhmEv, noiseFor } from './resolution.ts';

const WINDOWS = ['polymer', 'silicon-nitride', 'beryllium', 'none'] as const;

describe('efficiency', () => {
  it('lies between 0 and 1 everywhere', () => {
    for (const window of WINDOWS) {
      for (let ev = 50; ev < 30_000; ev *= 1.07) {
        const value = efficiency({ ...DEFAULT_DETECTOR, window }, ev);
        if (!(value >= 0 && value <= 1)) expect.fail(`${window} ${ev}: ${value}`);
      }
    }
  });

  it('falls with every layer made thicker, and with the crystal thinner', () => {
    const thicker: Partial<Detector>[] = [
      { windowUm: 0.4 },
      { aluminiumNm: 60 },
      { iceUm: 0.5 },
      { deadLayerUm: 0.2 },
      { openFraction: 0.6 },
    ];
    for (const change of thicker) {
      for (const ev of [277, 700, 1740, 12_000]) {
        expect(efficiency({ ...DEFAULT_DETECTOR, ...change }, ev)).toBeLessThan(efficiency(DEFAULT_DETECTOR, ev));
      }
    }
    expect(efficiency({ ...DEFAULT_DETECTOR, thicknessMm: 0.3 }, 12_000)).toBeLessThan(
      efficiency(DEFAULT_DETECTOR, 12_000),
    );
  });

  it('shows the edges of its layers: C of the polymer, Al of the coat, Si of dead layer and grid', () => {
    const step = (edge: number): number =>
      efficiency(DEFAULT_DETECTOR, edge + 4) / efficiency(DEFAULT_DETECTOR, edge - 4);
    for (const edge of [284.2, 1559.6, 1839]) expect(step(edge)).toBeLessThan(0.99);
  });

  it('of many energies is that of each', () => {
    expect([...efficiencies(DEFAULT_DETECTOR, Float64Array.of(500, 5000))]).toEqual(
      [500, 5000].map((ev) => efficiency(DEFAULT_DETECTOR, ev)),
    );
  });
});

describe('resolution', () => {
  it('finds the noise that gives a stated resolution, and none where it is better than statistics allow', () => {
    for (const stated of [121, 125, 129, 133, 150]) {
      const noiseEv = noiseFor(DEFAULT_DETECTOR, stated);
      expect(Math.abs(fwhmEv({ ...DEFAULT_DETECTOR, noiseEv }, 5895) - stated)).toBeLessThan(1e-9);
    }
    expect(noiseFor(DEFAULT_DETECTOR, 100)).toBe(0);
    expect(Math.abs(fwhmEv(DEFAULT_DETECTOR, 5895) - 129)).toBeLessThan(0.1);
  });
});

describe('escape', () => {
  it('begins at the Si K edge and falls with energy', () => {
    expect(escapeRatio(1800)).toBe(0);
    let before = Infinity;
    for (let ev = 1850; ev < 30_000; ev *= 1.1) {
      expect(escapeRatio(ev)).toBeLessThan(before);
      before = escapeRatio(ev);
    }
    expect(before).toBeGreaterThan(0);
  });
});
