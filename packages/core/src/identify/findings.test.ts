import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { explain, type Explanation } from './explain.ts';
import type { FindingData } from './finding.ts';
import { findingsOf } from './findings.ts';
import { limitsOf } from './limits.ts';
import type { LeaveOneOut } from './leave-one-out.ts';
import { thresholdOf } from './thresholds.ts';

/** Verdicts just above and just below what an element must show: an explanation whose one member is made to show exactly that. */

const spectrum = simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts: 100_000, seed: 5 });
const whole: Explanation = explain(spectrum, { beamEv: 20_000, takeOffDeg: 35 });
const CALCIUM = whole.candidates.indexOf(20);
const { evidence } = whole.leaveOuts.get(CALCIUM)!;
const asked = thresholdOf(20, whole.round.design.areas, evidence);
const PLENTY = 1e4;

function calcium(shown: Partial<LeaveOneOut>, more: Partial<Explanation> = {}): FindingData {
  const leaveOut = { ...whole.leaveOuts.get(CALCIUM)!, added: [], deltaNothing: PLENTY, margin: PLENTY, ...shown };
  const misfit = { c: 1000, expected: 1000, variance: 2000 };
  const leaveOuts = new Map([...whole.leaveOuts, [CALCIUM, leaveOut]]);
  return findingsOf({ ...whole, misfit, leaveOuts, ...more }, new Map()).find(({ z }) => z === 20)!;
}

describe('calcium with plenty of evidence', () => {
  it('is present', () => {
    expect(calcium({})).toMatchObject({ verdict: 'present', reason: { kind: 'required' } });
  });

  it.each([
    [0.1, 'present'],
    [-0.1, 'open'],
  ])('against nothing in its place, %d from what it must show: %s', (from, verdict) => {
    const finding = calcium({ deltaNothing: asked.deltaC + from });
    expect(finding.verdict).toBe(verdict);
    if (verdict === 'open') expect(finding.reason.kind).toBe('short');
  });

  it.each([
    [0.1, 'present', 'required'],
    [-0.1, 'open', 'rare'],
  ])('against no rival, margin %d from what it must show: %s', (from, verdict, kind) => {
    expect(calcium({ margin: asked.margin + from })).toMatchObject({ verdict, reason: { kind } });
  });

  it.each([
    [0.1, 'present', 'required'],
    [-0.1, 'open', 'rival-fits'],
  ])('against a rival, margin %d from what it must show: %s', (from, verdict, kind) => {
    const antimony = whole.candidates.indexOf(51);
    const margin = asked.margin + from;
    const shown = { added: [antimony], margin, rivalMargin: margin };
    const finding = calcium(shown);
    expect(finding).toMatchObject({ verdict, reason: { kind } });
    expect(finding.rivals).toMatchObject([{ name: 'Sb', deltaC: margin }]);
  });

  it.each([
    [2.02, 'present'],
    [1.98, 'open'],
  ])('where the model misfits by a factor of 2, evidence of %d times the threshold makes it %s', (times, verdict) => {
    const misfit = { c: 2000, expected: 1000, variance: 2000 };
    expect(calcium({ deltaNothing: times * asked.deltaC }, { misfit }).verdict).toBe(verdict);
    expect(calcium({ margin: times * asked.margin }, { misfit }).verdict).toBe(verdict);
  });

  it('is open on an axis in doubt, and in a reading that was not finished', () => {
    const doubtful = calcium({}, { axisStanding: 'doubtful' });
    expect(doubtful).toMatchObject({ verdict: 'open', reason: { kind: 'axis-doubtful' } });
    const unfinished = calcium({}, { unfinished: true });
    expect(unfinished).toMatchObject({ verdict: 'open', reason: { kind: 'unfinished' } });
    for (const { probability } of [doubtful, unfinished]) expect(probability).toBeLessThanOrEqual(0.5);
  });

  it('is open where its amount is below four standard deviations', () => {
    const one = whole.fitted.get(20)!;
    const faint = (sigmas: number): FindingData =>
      calcium({}, { fitted: new Map([...whole.fitted, [20, { ...one, sigma: one.amount / sigmas }]]) });
    expect(faint(4.01).verdict).toBe('present');
    expect(faint(3.99)).toMatchObject({ verdict: 'open', reason: { kind: 'faint' } });
  });
});

describe('an element that few counts say little of', () => {
  /** Detection limits by mass, with the verdicts of what is not in the explanation. */
  const told = [150, 300, 600].flatMap((totalCounts) => {
    const few = simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts, seed: 5 });
    const explanation = explain(few, { beamEv: 20_000, takeOffDeg: 35 });
    const { fitted, misfit, candidates, leaveOuts } = explanation;
    const total = [...fitted.values()].reduce((sum, { amount }) => sum + amount, 0);
    const { amount } = limitsOf(explanation, Math.max(1, misfit.c / misfit.expected));
    const verdicts = new Map(findingsOf(explanation, new Map()).map(({ z, verdict }) => [z, verdict]));
    return candidates.flatMap((z, e) =>
      leaveOuts.has(e) ? [] : [{ limit: amount[e] / (total + amount[e]), verdict: verdicts.get(z)! }],
    );
  });

  it('is hidden where its limit is above 40 % by mass, and only there', () => {
    for (const { limit, verdict } of told) expect([limit, verdict === 'blind']).toEqual([limit, !(limit <= 0.4)]);
    expect(told.some(({ limit }) => limit > 0.25 && limit < 0.4)).toBe(true);
    expect(told.some(({ limit }) => limit > 0.4 && limit < 0.7)).toBe(true);
  });
});
