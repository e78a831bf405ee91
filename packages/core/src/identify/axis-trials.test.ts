import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { symbolOf } from '../atomic/elements.ts';
import type { EnergyAxis } from '../spectrum/spectrum.ts';
import { movedTrial, triedAxis, trialGround, type Trial } from './axis-trials.ts';
import { otherAxes, penaltyOf } from './other-axes.ts';

const white = simulate({ composition: '2PbCO3*Pb(OH)2' }, { beamKev: 20, totalCounts: 300_000, seed: 3 });
const right = white.axis;

/** The spectrum with an axis stated so, and what axes are tried on. */
function stated(gain: number, offsetEv: number) {
  const spectrum = { ...white, axis: { gainEv: right.gainEv * gain, offsetEv: right.offsetEv + offsetEv } };
  const ground = trialGround(spectrum, { beamEv: 20_000, takeOffDeg: 35 }, {});
  const { at } = ground;
  return {
    ground,
    attempt: (axis: EnergyAxis): Trial => triedAxis(ground, axis)!,
    symbols: ({ members }: Trial): string[] => members.map((e) => symbolOf(at.candidates[e])),
    axis: spectrum.axis,
    penalties: ({ members }: Trial): number => members.reduce((sum, e) => sum + at.frame.penalty[e], 0),
    channels: at.frame.range,
  };
}

/** How far an axis is from the right one, eV, at 2 and at 11 keV, where the lines of lead are. */
const off = ({ offsetEv, gainEv }: EnergyAxis): number =>
  Math.max(
    ...[2000, 11_000].map((energy) => {
      const channel = (energy - right.offsetEv) / right.gainEv;
      return Math.abs(offsetEv + gainEv * channel - energy);
    }),
  );

describe('a trial of an axis', () => {
  it('on the right one finds the elements that are there, and explains the counts within counting and the error granted', () => {
    const { attempt, symbols, axis, penalties, channels } = stated(0.97, -40);
    const trial = attempt(right);
    expect(symbols(trial)).toContain('Pb');
    const rest = trial.badness - penaltyOf(axis, right) - penalties(trial);
    expect(rest).toBeGreaterThan(0);
    expect(rest).toBeLessThan(channels.hi - channels.lo);
  });

  it('is far worse on any other axis that is tried, wherever the stated one lies', () => {
    for (const [gain, offsetEv] of [
      [1, 0],
      [0.97, -40],
      [1.04, 60],
    ]) {
      const { attempt, axis } = stated(gain, offsetEv);
      const least = attempt(right).badness;
      const wrong = otherAxes(axis).filter((other) => off(other) > 60);
      for (const other of wrong) expect(attempt(other).badness).toBeGreaterThan(least + 50);
    }
  });
});

describe('an axis moved to its place', () => {
  const { ground, attempt } = stated(0.97, -40);

  it.each([
    [20, 0.9975],
    [-20, 1.003],
    [0, 0.9965],
  ])('comes near the right one from %d eV and a gain of %d beside it', (offsetEv, gain) => {
    const beside = { offsetEv: right.offsetEv + offsetEv, gainEv: right.gainEv * gain };
    const first = attempt(beside);
    const moved = movedTrial(ground, first);
    expect(moved.badness).toBeLessThan(first.badness);
    expect(off(moved.axis)).toBeLessThan(12);
  });

  it('is never left worse than it was', () => {
    for (const axis of otherAxes(ground.spectrum.axis).filter((_, i) => i % 7 === 0)) {
      const first = attempt(axis);
      expect(movedTrial(ground, first).badness).toBeLessThanOrEqual(first.badness);
    }
  });
});

describe('counts that are no spectrum', () => {
  it('of too few channels have no trials', () => {
    const { attempt } = stated(1, 0);
    expect(triedAxis(stated(1, 0).ground, { offsetEv: 30_000, gainEv: 10 })).toBeNull();
    expect(attempt(right)).not.toBeNull();
  });
});
