import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { edgeEv } from '../atomic/shells.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { createEmission } from '../emission/thick/characteristic.ts';
import { valueAt } from './column.ts';
import { continuumDoubts, detectedContinuum } from './continuum.ts';
import { fwhmEv } from '../detector/resolution.ts';

const n = 1024;
const axis = { offsetEv: 0, gainEv: 10 };
const instrument = { axis, detector: DEFAULT_DETECTOR };
const quartz = massFractionsOf('SiO2');
const emission = createEmission(20_000, 40);
const seen = detectedContinuum(emission, quartz, instrument, n, 15, n);
const { counts } = seen;

describe('the continuum behind the detector', () => {
  it('does not drop at the end of the axis', () => {
    // Smooth there: the last channel follows the slope of those before it.
    for (let i = n - 20; i < n; i++) {
      const step = counts[i] / counts[i - 1];
      expect(Math.abs(step / (counts[n - 40] / counts[n - 41]) - 1)).toBeLessThan(2e-3);
    }
  });

  it('smears the Si K edge over about the resolution', () => {
    const edge = edgeEv(14, 0);
    const at = (energyEv: number): number => counts[Math.round(energyEv / axis.gainEv)];
    const half = fwhmEv(DEFAULT_DETECTOR, edge) / 2;
    const [before, after] = [at(edge - 2 * half), at(edge + 2 * half)];
    expect(Math.abs(after / before - 1)).toBeGreaterThan(0.1);
    const middle = (at(edge) - before) / (after - before);
    expect(middle).toBeGreaterThan(0.3);
    expect(middle).toBeLessThan(0.7);
    // No two neighbours share the whole step.
    for (let e = edge - 2 * half; e < edge + 2 * half; e += 10)
      expect(Math.abs(at(e + 10) - at(e))).toBeLessThan(0.25 * Math.abs(after - before));
  });

  it('conserves counts in smearing: the same within 1 % far from edges', () => {
    const wide = { ...instrument, detector: { ...DEFAULT_DETECTOR, noiseEv: 90 } };
    const wider = detectedContinuum(emission, quartz, wide, n, 15, n).counts;
    for (const channel of [450, 600, 800, 1000])
      expect(Math.abs(wider[channel] / counts[channel] - 1)).toBeLessThan(0.01);
  });
});

describe('its doubts', () => {
  it('are one column per variant, and to first order what the variant changes', () => {
    const doubts = continuumDoubts(counts, seen, 15, n);
    expect(doubts.length).toBe(seen.variants.length);
    doubts.forEach((doubt, k) => {
      const variant = seen.variants[k];
      for (let i = 30; i < n; i++) {
        const change = variant[i] / counts[i] - 1;
        expect(Math.abs(valueAt(doubt, i) / counts[i] - change)).toBeLessThanOrEqual(change * change + 1e-9);
      }
    });
  });

  it('a thicker window takes away soft photons and hardly any hard ones', () => {
    const [window] = continuumDoubts(counts, seen, 15, n);
    const relative = (channel: number): number => valueAt(window, channel) / counts[channel];
    expect(relative(40)).toBeLessThan(-0.02);
    expect(Math.abs(relative(600))).toBeLessThan(2e-3);
  });
});
