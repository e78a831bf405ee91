import { describe, expect, it } from 'vitest';
import { USUAL } from '../fit/instrument-prior.ts';
import { axisStanding } from './wrong-axis.ts';

const stated = { offsetEv: 0, gainEv: 10 };
/** An axis so many prior standard deviations of gain from the stated one. */
const at = (sigmas: number) => ({ offsetEv: 0, gainEv: 10 * (1 + sigmas * USUAL.gain) });

describe('how a settled axis stands to the stated one', () => {
  it('holds up to three standard deviations of its statement, however the fit is', () => {
    expect(axisStanding(stated, at(2.99), 9, false)).toBe('stated');
    expect(axisStanding(stated, at(-2.99), 1, true)).toBe('stated');
    expect(axisStanding(stated, { offsetEv: 3 * USUAL.offsetEv, gainEv: 10 }, 1, true)).toBe('stated');
  });

  it('is put right beyond that where the fit is good and came to rest, and in doubt where it is not', () => {
    expect(axisStanding(stated, at(3.01), 1.24, true)).toBe('corrected');
    expect(axisStanding(stated, at(3.01), 1.25, true)).toBe('doubtful');
    expect(axisStanding(stated, at(3.01), 1.24, false)).toBe('doubtful');
    expect(axisStanding(stated, { offsetEv: -3.01 * USUAL.offsetEv, gainEv: 10 }, 1, true)).toBe('corrected');
  });
});
