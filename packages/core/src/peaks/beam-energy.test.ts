import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { continuumEndEv } from './beam-energy.ts';

const axis = { offsetEv: 0, gainEv: 20 };

// The continuum ends at the beam energy: Duane & Hunt, Phys. Rev. 6 (1915) 166.
describe('the end of the continuum', () => {
  it.each([8, 10, 12, 15, 20, 25, 30])('is the beam energy, %i keV, within 6 %% at a million counts', (beamKev) => {
    for (const composition of ['SiO2', 'Fe2O3', '2PbCO3*Pb(OH)2', 'Au']) {
      for (const seed of [1, 2]) {
        const { counts } = simulate({ composition }, { beamKev, totalCounts: 1e6, seed, axis, pileUp: 0 });
        const end = continuumEndEv(counts, axis)!;
        expect(Math.abs(end / (beamKev * 1000) - 1), `${composition}, seed ${seed}: ${end}`).toBeLessThan(0.06);
      }
    }
  });

  it('is not told where the axis ends before the continuum does, or holds nothing to go by', () => {
    const { counts } = simulate({ composition: 'Au' }, { beamKev: 25, totalCounts: 1e6, seed: 3, channels: 1024 });
    expect(continuumEndEv(counts, { offsetEv: 0, gainEv: 10 })).toBeNull();
    expect(continuumEndEv(new Float64Array(32), axis)).toBeNull();
  });
});
