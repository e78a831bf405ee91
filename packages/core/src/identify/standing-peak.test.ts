import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { explain, type Explanation } from './explain.ts';
import { amountThatStands, isPlain, standingPeak } from './standing-peak.ts';

const spectrum = simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts: 100_000, seed: 5 });
const { frame, fit, parts }: Explanation = explain(spectrum, { beamEv: 20_000, takeOffDeg: 35 });
const CALCIUM = 20;
const place = fit.zs.indexOf(CALCIUM);
/** The fit with so much of the calcium that it found, its counts as they were. */
const holding = (part: number): typeof fit => ({
  ...fit,
  fit: { ...fit.fit, coefficients: fit.fit.coefficients.map((value, k) => (k === place ? part * value : value)) },
});

describe('a peak', () => {
  it('is plain from the height of everything else at its place', () => {
    expect(isPlain({ ratio: 1, sigmas: 0 })).toBe(true);
    expect(isPlain({ ratio: 0.999, sigmas: 100 })).toBe(false);
  });

  it('stands where it is plain, and needs no local proof then', () => {
    const peak = standingPeak(frame, fit, parts, CALCIUM)!;
    expect(peak.ratio).toBeGreaterThan(5);
    expect(peak.sigmas).toBe(Infinity);
  });

  it('stands from a fiftieth of everything else, if it stands out locally; of less there is none', () => {
    // Height over the rest, h / (E - h), is r where h is r / (1 + r) of what is expected there.
    const whole = standingPeak(frame, fit, parts, CALCIUM)!.ratio;
    const share = (ratio: number): number => (ratio / (1 + ratio)) * ((1 + whole) / whole);
    const low = standingPeak(frame, holding(share(0.0205)), parts, CALCIUM)!;
    expect(low.ratio).toBeCloseTo(0.0205, 6);
    expect(low.sigmas).toBeGreaterThan(4);
    expect(Number.isFinite(low.sigmas)).toBe(true);
    expect(standingPeak(frame, holding(share(0.0195)), parts, CALCIUM)).toBeNull();
  });
});

describe('the least amount of an element outside that would stand', () => {
  const MERCURY = 80;
  const column = fit.design.layout.templates[place].column;
  const least = (enough: number, quantile = 0): number =>
    amountThatStands(frame, fit, parts, CALCIUM, fit.design.areas, column, quantile, enough);

  it('is not worked out below what is asked for anyway', () => {
    expect(least(Infinity)).toBeGreaterThanOrEqual(least(0));
    expect(least(0)).toBeGreaterThan(0);
  });

  it('grows with the certainty that is asked', () => {
    expect(least(0, 2)).toBeGreaterThan(least(0));
  });

  it('is without end for what has no line in range', () => {
    const none = new Float64Array(fit.design.areas.length);
    expect(amountThatStands(frame, fit, parts, MERCURY, none, column, 0, 0)).toBe(Infinity);
  });
});
