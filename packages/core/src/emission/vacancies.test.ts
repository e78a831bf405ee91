import { describe, expect, it } from 'vitest';
import { costerKronig } from '../atomic/shells.ts';
import { redistribute } from './vacancies.ts';

const PB = 82;

describe('Coster-Kronig redistribution', () => {
  it('hands an L1 vacancy to L2 and L3, directly and by way of L2', () => {
    const vacancies = Float64Array.of(0, 1, 0, 0, 0, 0, 0, 0, 0);
    redistribute(vacancies, PB);
    const [f12, f13, f23] = [costerKronig(PB, 1, 2), costerKronig(PB, 1, 3), costerKronig(PB, 2, 3)];
    expect(f12 * f13 * f23).toBeGreaterThan(0);
    expect([...vacancies.subarray(1, 4)]).toEqual([1, f12, f13 + f23 * f12]);
  });

  it('leaves K alone and does not mix shells', () => {
    const vacancies = Float64Array.of(1, 0, 0, 0, 0, 0, 0, 0, 0);
    redistribute(vacancies, PB);
    expect([...vacancies]).toEqual([1, 0, 0, 0, 0, 0, 0, 0, 0]);
    vacancies.fill(0)[3] = 1;
    redistribute(vacancies, PB);
    expect([...vacancies]).toEqual([0, 0, 0, 1, 0, 0, 0, 0, 0]);
  });
});
