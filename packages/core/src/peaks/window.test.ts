import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { simulate } from '../simulate/simulate.ts';
import { mayHaveThickWindow } from './window.ts';

const axis = { offsetEv: 0, gainEv: 10 };
const detectors = {
  thin: DEFAULT_DETECTOR,
  thick: { ...DEFAULT_DETECTOR, window: 'beryllium', windowUm: 8, aluminiumNm: 0, openFraction: 1 },
} as const;

function suspected(composition: string, window: keyof typeof detectors, beamKev: number, totalCounts: number): boolean {
  const conditions = { beamKev, totalCounts, seed: 4, detector: detectors[window] };
  return mayHaveThickWindow(simulate({ composition }, conditions).counts, axis);
}

describe('a thick window', () => {
  // Not mercury: the escape peak of its M lines (2195 - 1740 = 455 eV) lies where oxygen would.
  it.each(['SiO2', 'CaCO3', 'Fe2O3', '2PbCO3*Pb(OH)2', 'Cu'])('is suspected behind one: %s', (composition) => {
    for (const beamKev of [15, 25]) expect(suspected(composition, 'thick', beamKev, 200_000)).toBe(true);
  });

  it.each(['SiO2', 'CaCO3', 'Fe2O3', '2PbCO3*Pb(OH)2'])('is not where oxygen shows: %s', (composition) => {
    for (const beamKev of [15, 25]) expect(suspected(composition, 'thin', beamKev, 200_000)).toBe(false);
  });

  it('is not where the axis does not reach down to oxygen or up to it', () => {
    expect(mayHaveThickWindow(new Float64Array(500), { offsetEv: 600, gainEv: 10 })).toBe(false);
    expect(mayHaveThickWindow(new Float64Array(50), axis)).toBe(false);
  });
});
