import { describe, expect, it } from 'vitest';
import { Work } from '../fit/work.ts';
import { simulate } from '../simulate/simulate.ts';
import { opened } from './contender.ts';
import { settleAxis } from './converge-axis.ts';
import { settle, type Settled } from './converge.ts';
import { firstStart } from './first-start.ts';

const spectrum = simulate(
  { composition: 'HgS' },
  {
    beamKev: 20,
    channels: 512,
    axis: { offsetEv: 0, gainEv: 40 },
    totalCounts: 100_000,
    seed: 9,
    perturb: { seed: 9 },
  },
);

/** Settled from an axis so far from the right one: from there alone, and with other axes tried where that is in doubt. */
function settled(offsetEv: number, gain: number, more: { readonly work?: Work; readonly brief?: boolean } = {}) {
  const axis = { offsetEv, gainEv: 40 * (1 + gain) };
  const conditions = { beamEv: 20_000, takeOffDeg: 40, ...more };
  const { frame, candidates, stated, detector } = opened({ ...spectrum, axis }, conditions, true, {});
  const alone = settle(frame, candidates, firstStart(frame, stated, detector), stated);
  return { alone, best: settleAxis(frame, candidates, stated, detector) };
}
const meritOf = ({ round }: Settled): number => round.merit;

describe('an axis that is stated 45 eV and 0.7 per cent off', () => {
  // Nearly four standard deviations of the statement: where it ends from there is not believed before others were tried.
  const { alone, best } = settled(45, -0.007);

  it('is settled from others around it as well, and the one that explains the counts better is kept', () => {
    expect(meritOf(best)).toBeLessThan(meritOf(alone) - 10);
    const { axis } = best.round.instrument;
    expect(Math.abs(axis.offsetEv)).toBeLessThan(5);
    expect(Math.abs(axis.gainEv / 40 - 1)).toBeLessThan(1e-3);
  });
});

describe('an axis that is not in doubt', () => {
  it('is settled from where it is stated, and no other is tried', () => {
    const { alone, best } = settled(5, 0.0005);
    expect(meritOf(best)).toBe(meritOf(alone));
    expect(best.rounds).toBe(alone.rounds);
  });

  it('stands as it is where it was given up, or where the work is spent', () => {
    const { alone, best } = settled(0, -0.1, { brief: true });
    expect([alone.givenUp, best.givenUp]).toEqual([true, true]);
    expect(meritOf(best)).toBe(meritOf(alone));
    const spent = settled(30, -0.005, { work: new Work(1) });
    expect(meritOf(spent.best)).toBe(meritOf(spent.alone));
  });
});
