import { describe, expect, it } from 'vitest';
import { PRIORS } from './priors.ts';
import { lnSharesOf } from './shares.ts';

const [FAIR, SPREAD] = [PRIORS.share.value, PRIORS.shareSpread.value];
const shares = (fractions: readonly number[], information = 0): number => {
  const k = fractions.length;
  const normal = Float64Array.from({ length: k * k }, (_, i) => (i % (k + 1) === 0 ? information : 0));
  return lnSharesOf(Float64Array.from(fractions), normal);
};

describe('what the shares of materials say', () => {
  it('is a log-normal about a fair share, of those below it alone', () => {
    const of = (part: number): number => shares([part, 1 - part]) - shares([0.5, 0.5]);
    expect(of(FAIR)).toBeCloseTo(0, 12);
    expect(of(0.6)).toBeCloseTo(0, 12);
    expect(of(0.1)).toBeCloseTo(-0.5 * (Math.log(FAIR / 0.1) / SPREAD) ** 2, 12);
    // Shares of the materials, not of the grain: medium and mounting are no matter.
    expect(shares([0.02, 0.18])).toBeCloseTo(shares([0.1, 0.9]), 12);
  });

  it('is a part of the cost of one more material where the amounts say nothing', () => {
    // The posterior is the prior: its information is one over the spread squared.
    expect(shares([1])).toBeCloseTo(PRIORS.shareFree.value, 12);
    expect(shares([0.5, 0.5])).toBeCloseTo(2 * PRIORS.shareFree.value, 12);
  });

  it('is less the more narrowly the amounts fix a share: it was a sharper guess', () => {
    const at = (information: number): number => shares([1], information) - PRIORS.shareFree.value;
    expect(at(100)).toBeCloseTo(-Math.log(SPREAD) - 0.5 * Math.log(100 + SPREAD ** -2), 12);
    expect(at(400) - at(100)).toBeLessThan(-0.65);
  });
});

it('no parts say nothing', () => {
  expect(shares([])).toBeCloseTo(0, 12);
});
