import { describe, expect, it } from 'vitest';
import { Work } from '../fit/work.ts';
import { simulate } from '../simulate/simulate.ts';
import { explain } from './explain.ts';
import { findingsOf } from './findings.ts';
import { ledgerOf } from './ledger.ts';

const grain = simulate({ composition: '2PbCO3*Pb(OH)2' }, { beamKev: 20, totalCounts: 50_000, seed: 3 });
const explained = (work: Work) => explain(grain, { beamEv: 20_000, takeOffDeg: 35, work });

describe('the work of a reading', () => {
  const plenty = new Work();
  const whole = explained(plenty);

  it('is far from spent by a grain', () => {
    expect(whole.unfinished).toBe(false);
    expect(plenty.left).toBeGreaterThan(0.75 * new Work().left);
    expect(findingsOf(whole, new Map()).filter(({ verdict }) => verdict === 'present').length).toBeGreaterThan(0);
  });

  it('is the same however often, so that a reading ends at the same step everywhere', () => {
    const again = new Work();
    explained(again);
    expect(again.left).toBe(plenty.left);
  });

  it.each([0, 1e8])('once %d is spent, ends with what stands: nothing is present, and the counts add up', (budget) => {
    const work = new Work(budget);
    const early = explained(work);
    expect(early.unfinished).toBe(true);
    // What is left to do after the last step is bounded too.
    expect(-work.left).toBeLessThan(2e9);
    const findings = findingsOf(early, new Map());
    expect(findings.filter(({ verdict }) => verdict === 'present')).toEqual([]);
    for (const { probability } of findings) expect(probability).toBeLessThan(0.6);
    const told = ledgerOf(early.frame, early.parts).reduce((sum, { counts }) => sum + counts, 0);
    const counted = grain.counts.reduce((sum, value) => sum + value, 0);
    expect(Math.abs(told / counted - 1)).toBeLessThan(1e-9);
  });
});
