import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { lacksContinuum } from './sparse-continuum.ts';

const axis = { offsetEv: 0, gainEv: 20 };

/**
 * Peaks of copper on what a tube scatters off it: little at low energies, more towards the end. Line energies and ratio: Bearden 1967
 * (from memory); the scatter's shape is drawn, not worked out.
 */
function excitedByXrays(total: number): Float64Array {
  const peak = (energyEv: number, area: number, ev: number): number =>
    (area * axis.gainEv * Math.exp(-0.5 * ((ev - energyEv) / 65) ** 2)) / (65 * Math.sqrt(2 * Math.PI));
  return Float64Array.from({ length: 1500 }, (_, i) => {
    const ev = axis.gainEv * i;
    const scattered = ev < 25_000 ? 0.1 * (ev / 25_000) ** 2 * (axis.gainEv / 8000) : 0;
    return total * (peak(8046, 0.8, ev) + peak(8905, 0.11, ev) + scattered);
  });
}

describe('a continuum too low for electrons', () => {
  it('is seen under lines that X-rays excite', () => {
    expect(lacksContinuum(excitedByXrays(5e5), axis, 25_000)).toBe(true);
  });

  it('is seen where it ends above what scanning microscopes reach, and not in a transmission microscope', () => {
    const { counts } = simulate(
      { composition: 'Cu' },
      { beamKev: 30, totalCounts: 5e5, seed: 3, axis, channels: 1500 },
    );
    expect(lacksContinuum(counts, axis, 40_000)).toBe(true);
    expect(lacksContinuum(counts, axis, 30_000)).toBe(false);
    expect(lacksContinuum(excitedByXrays(5e5), axis, 200_000)).toBe(false);
  });

  it('is not told of a few counts, nor of a zero peak alone', () => {
    expect(lacksContinuum(excitedByXrays(5e3), axis, 25_000)).toBe(false);
    expect(lacksContinuum(new Float64Array(1500).fill(1e6, 0, 3), axis, 25_000)).toBe(false);
  });

  it.each(['C', 'BN', 'SiO2', 'CaCO3', 'Fe2O3', 'Cu', 'MoS2', '2PbCO3*Pb(OH)2', 'Au'])(
    'is not seen under %s',
    (composition) => {
      for (const beamKev of [5, 15, 30]) {
        const { counts } = simulate({ composition }, { beamKev, totalCounts: 3e5, seed: 4, axis, channels: 1600 });
        expect(lacksContinuum(counts, axis, beamKev * 1000), `${beamKev} keV`).toBe(false);
      }
    },
  );
});
