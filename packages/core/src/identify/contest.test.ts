import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { contest, isWorthARound, type Contestants } from './contest.ts';
import { settledContender } from './contender.ts';
import { gapOf, inSteadOf } from './leave-one-out.ts';

const spectrum = simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts: 100_000, seed: 5 });
const { frame, candidates, stated, settled } = settledContender(spectrum, { beamEv: 20_000, takeOffDeg: 35 });
const start = { ...settled.start, relativeError: 0 };
const contestants: Contestants = { frame, candidates, start, stated, compared: false };
const [CALCIUM, INDIUM] = [20, 49].map((z) => candidates.indexOf(z));
const stead = inSteadOf(frame, settled.round, gapOf(frame, settled.round, CALCIUM), new Set());

describe('what would stand in for a member', () => {
  const worth = (margin: number, more: Partial<typeof stead> = {}, compared = false): boolean =>
    isWorthARound({ ...contestants, compared }, settled.round, { ...stead, added: [INDIUM], margin, ...more });

  it('is given a round of its own where it comes within 80 and no full fit will compare the two', () => {
    expect([worth(79.9), worth(80)]).toEqual([true, false]);
    expect(worth(79.9, {}, true)).toBe(false);
    expect(worth(79.9, { added: [] })).toBe(false);
  });

  it('is given one within 1000 where the member must show more than ordinary ones: it is rare', () => {
    const rare = { element: INDIUM, added: [CALCIUM] };
    expect([worth(999, rare, true), worth(1000, rare, true)]).toEqual([true, false]);
    expect(worth(999)).toBe(false);
  });
});

it('what nothing contests stands as it settled', () => {
  const { round, takeOvers } = contest(contestants, settled.round);
  expect(takeOvers).toBe(0);
  expect(round).toBe(settled.round);
});
