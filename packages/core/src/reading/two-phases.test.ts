import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { identify } from './identify.ts';

/** Counts of a substance, 2 % of them summed two by two. */
const scanned = (formula: string, seed: number) =>
  simulate(
    { composition: [{ formula, massFraction: 1 }] },
    { beamKev: 15, takeOffDeg: 35, totalCounts: 400_000, seed, pileUp: 0.02 },
  );

// A beam that scans over two phases leaves sums within each and none between them (Poisson arrivals in each pixel): Cu L + Cu L lies
// at Re M, As L + Ga L at Bi M, Zn L + Zn L at P K (energies by Bearden, Rev. Mod. Phys. 39 (1967) 78).
describe('an area of two phases', () => {
  it.each([
    ['ZnO', 'GaAs', ['O', 'Zn', 'Ga', 'As']],
    ['ZnO', 'Cu', ['O', 'Zn', 'Cu']],
    ['Cu', 'CaCO3', ['Cu', 'Ca', 'C', 'O']],
    ['ZnO', 'CaCO3', ['O', 'Zn', 'Ca', 'C']],
  ])('holds nothing but %s and %s, however high the rate', (one, other, held) => {
    const [first, second] = [scanned(one, 1), scanned(other, 2)];
    const { elements } = identify({ ...first, counts: first.counts.map((n, i) => n + second.counts[i]) });
    const present = elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
    expect(held).toEqual(expect.arrayContaining(present));
    // Carbon may be a film on the surface: it need not be called present.
    expect(present).toEqual(expect.arrayContaining(held.filter((symbol) => symbol !== 'C')));
  });
});
