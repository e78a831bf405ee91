import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { doubtOf, type Shown } from './doubt.ts';
import { explain } from './explain.ts';

const spectrum = simulate({ composition: 'CaF2*CaCO3' }, { beamKev: 15, totalCounts: 300_000, seed: 5 });
const whole = explain(spectrum, { beamEv: 15_000, takeOffDeg: 35 });
/** Plenty of evidence, but for the rise of chi-square when the element is left out. */
const doubt = (z: number, rise: number, thickWindow: boolean) => {
  const threshold = { deltaC: 36, margin: 10 };
  const shown: Shown = { z, short: rise, margin: 1e4, threshold, rise, rivals: [], detectorBrings: false };
  return doubtOf({ ...whole, thickWindow }, shown)?.kind ?? null;
};

// Soft L lines of iron and manganese lie upon F K (Bearden, Rev. Mod. Phys. 39 (1967) 78).
describe('what lies before a thick window', () => {
  it.each([
    ['oxygen', 8, 200],
    ['fluorine', 9, 1000],
  ])('%s must show far more there', (_, z, asked) => {
    expect(doubt(z, asked - 1, true)).toBe('behind-window');
    expect(doubt(z, asked + 1, true)).toBeNull();
    expect(doubt(z, asked - 1, false)).toBeNull();
  });

  it('asks no more of what gets through', () => {
    expect(doubt(20, 50, true)).toBeNull();
  });
});
