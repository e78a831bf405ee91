import { describe, expect, it } from 'vitest';
import { costerKronig, edgeEv, fluorescenceYield, vacanciesLeft } from '../../atomic/shells.ts';
import { redistribute } from './vacancies.ts';

const PB = 82;

/** Vacancies after redistribution of one in subshell s. */
function from(s: number, z: number): number[] {
  const vacancies = new Float64Array(9);
  vacancies[s] = 1;
  redistribute(vacancies, z);
  return [...vacancies];
}

describe('redistribution of vacancies', () => {
  it('hands an L1 vacancy to L2 and L3, directly and by way of L2', () => {
    const [f12, f13, f23] = [costerKronig(PB, 1, 2), costerKronig(PB, 1, 3), costerKronig(PB, 2, 3)];
    expect(f12 * f13 * f23).toBeGreaterThan(0);
    expect(from(1, PB).slice(0, 4)).toEqual([0, 1, f12, f13 + f23 * f12]);
  });

  it('goes outwards only, and leaves nothing where an atom has no such subshell', () => {
    expect(from(3, PB).slice(0, 4)).toEqual([0, 0, 0, 1]);
    expect(from(8, PB)).toEqual([0, 0, 0, 0, 0, 0, 0, 0, 1]);
    for (let z = 1; z <= 98; z++)
      from(0, z).forEach((value, s) => {
        if (value > 0) expect(edgeEv(z, s), `z ${z} ${s}`).toBeGreaterThan(0);
      });
  });

  it('leaves at most two vacancies per Auger decay and one per photon', () => {
    for (let z = 12; z <= 98; z++) {
      const outer = [1, 2, 3, 4, 5, 6, 7, 8].reduce((sum, s) => sum + vacanciesLeft(z, 0, s), 0);
      expect(outer).toBeLessThanOrEqual(2 - fluorescenceYield(z, 0) + 1e-3);
      expect(outer).toBeGreaterThan(0.7);
    }
  });
});
