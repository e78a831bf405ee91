import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../../../tests/fixtures/amounts.ts';
import { Fits } from './fits.ts';
import { MATERIALS } from './knowledge.ts';
import { leastLoss } from './search.ts';
import { weigher } from './weigh.ts';

/** Invented grains in oil: a plain one, one of two, one of five. */
const OIL = { C18H32O2: 0.2 };
const GRAINS = [
  { HgS: 0.8, ...OIL },
  { '2PbCO3*Pb(OH)2': 0.5, Pb2SnO4: 0.3, ...OIL },
  { HgS: 0.2, ZnO: 0.2, TiO2: 0.15, 'Cu3(CO3)2(OH)2': 0.15, BaSO4: 0.1, ...OIL },
];
const weighed = GRAINS.map((parts) => weigher(findingsOf(parts), MATERIALS)());

describe('materials weighed against a grain', () => {
  it('are allowed where their best explanation is no more than three hundred times less likely than the best of all', () => {
    const behind: number[] = [];
    for (const { candidates, most } of weighed)
      for (const { allowed, best } of candidates) {
        if (best === null) continue;
        expect(allowed).toBe(most - best.lnAmounts <= Math.log(300));
        behind.push(most - best.lnAmounts);
      }
    expect(behind.filter((ln) => ln <= Math.log(300)).length).toBeGreaterThan(10);
    expect(behind.filter((ln) => ln > Math.log(300)).length).toBeGreaterThan(10);
    // One that is fitted in the place of its like may be a little likelier than that.
    expect(Math.min(...behind)).toBeGreaterThan(-1);
  });

  it('that leave no trace are not ruled out where a quarter of the grain could be made of them', () => {
    for (const { candidates } of weighed)
      for (const { best, untestable, allowed, room } of candidates)
        if (best === null) expect([untestable, allowed]).toEqual(Array(2).fill(room.most >= 0.25));
        else expect(untestable).toBe(false);
    const untestable = weighed[0].candidates.filter((one) => one.untestable).map(({ material: { id } }) => id);
    expect(untestable.length).toBeGreaterThan(0);
    expect(untestable.length).toBeLessThan(MATERIALS.length / 2);
  });

  it('explain it four at a time at most', () => {
    const sizes = weighed.map(({ mixtures }) => Math.max(...mixtures.map(({ parts }) => parts.length)));
    expect(Math.max(...sizes)).toBe(4);
  });

  it('are told in mixtures in which none does harm, all near the best', () => {
    for (const { mixtures, evidence, most } of weighed) {
      const fits = new Fits(evidence);
      for (const mixture of mixtures.slice(0, 40)) expect(leastLoss(mixture, fits)).toBeGreaterThan(-1.1);
      const [first] = mixtures;
      for (const { lnAmounts, lnWeight } of mixtures)
        expect(lnAmounts > most - 7 || lnWeight > first.lnWeight - 12).toBe(true);
      expect(Math.max(...mixtures.map(({ lnAmounts }) => lnAmounts))).toBe(most);
    }
  });

  it('stand beside a needed part where nothing needs them', () => {
    const [plain] = weighed;
    const [vermilion, chalk] = ['vermilion', 'chalk'].map((id) =>
      plain.candidates.find(({ material }) => material.id === id)!,
    );
    expect(vermilion).toMatchObject({ needed: true, allowed: true });
    expect(vermilion.best!.parts.map(({ material: { id } }) => id)).toContain('vermilion');
    // There is no calcium.
    expect(chalk).toMatchObject({ allowed: false });
  });
});
