import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { axisStrain, instrumentPrior, movedInstrument, strainedAxis, USUAL } from './instrument-prior.ts';

const axis = { offsetEv: -100, gainEv: 10 };
const now = { axis, detector: { ...DEFAULT_DETECTOR, noiseEv: 60, fano: 0.12 } };

describe('an axis', () => {
  it('is strained by what moved it farther, offset or gain, in usual standard deviations', () => {
    expect(axisStrain(axis, axis)).toBe(0);
    expect(axisStrain(axis, { ...axis, offsetEv: -100 - 3 * USUAL.offsetEv })).toBeCloseTo(3, 12);
    expect(axisStrain(axis, { ...axis, gainEv: 10 * (1 - 2 * USUAL.gain) })).toBeCloseTo(2, 12);
    expect(axisStrain(axis, { offsetEv: -100 + USUAL.offsetEv, gainEv: 10 * (1 + 4 * USUAL.gain) })).toBeCloseTo(4, 12);
    expect(axisStrain(axis, strainedAxis(axis, -1.5, 0.5))).toBeCloseTo(1.5, 12);
    expect(axisStrain(axis, strainedAxis(axis, 1, -2))).toBeCloseTo(2, 12);
  });
});

describe('what is known of an instrument', () => {
  it('pulls back to what was stated, wherever the fit has gone', () => {
    const moved = { ...now, axis: { offsetEv: -95, gainEv: 10.1 } };
    const prior = instrumentPrior({ axis, noiseEv: 64, noiseSigmaEv: 20 }, moved);
    expect(prior.offset).toEqual({ mean: -5, sigma: USUAL.offsetEv });
    expect(prior.gain.mean).toBeCloseTo(10 / 10.1 - 1, 12);
    expect(prior.noise).toEqual({ mean: 4, sigma: 20 });
    expect(prior.fano.mean).toBeCloseTo(DEFAULT_DETECTOR.fano / 0.12 - 1, 12);
    // A narrower statement than usual is not believed.
    expect(instrumentPrior({ axis, noiseEv: 64, noiseSigmaEv: 1 }, moved).noise.sigma).toBe(USUAL.noiseEv);
  });
});

describe('an instrument moved by a fit', () => {
  const by = (moves: Partial<Record<string, number>>) => (kind: string) => moves[kind] ?? 0;

  it('turns about its pivot: what lies there keeps its energy', () => {
    const pivotEv = 4900; // channel 500
    const { axis: turned } = movedInstrument(now, by({ gain: 0.002 }), pivotEv);
    expect(turned.gainEv).toBeCloseTo(10.02, 12);
    expect(turned.offsetEv + 500 * turned.gainEv).toBeCloseTo(pivotEv, 9);
    // Without one, about channel 0.
    expect(movedInstrument(now, by({ gain: 0.002 })).axis.offsetEv).toBe(-100);
    expect(movedInstrument(now, by({ offset: 7 }), pivotEv).axis).toEqual({ offsetEv: -93, gainEv: 10 });
  });

  it('takes no move larger than the linear model bears, either way', () => {
    const far = movedInstrument(now, by({ offset: 99, gain: -1, noise: 99, fano: -1 }), -100);
    expect(far.axis).toEqual({ offsetEv: -85, gainEv: 10 * (1 - 0.003) });
    expect([far.detector.noiseEv, far.detector.fano]).toEqual([70, 0.12 * 0.97]);
    const back = movedInstrument(now, by({ offset: -99, gain: 1, noise: -99, fano: 1 }), -100);
    expect(back.axis).toEqual({ offsetEv: -115, gainEv: 10 * 1.003 });
    expect([back.detector.noiseEv, back.detector.fano]).toEqual([50, 0.12 * 1.03]);
  });

  it('keeps some noise', () => {
    const quiet = { ...now, detector: { ...now.detector, noiseEv: 12 } };
    expect(movedInstrument(quiet, by({ noise: -9 })).detector.noiseEv).toBe(10);
  });
});
