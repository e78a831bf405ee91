import { expect, it } from 'vitest';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { continuumRatio, excitationOf } from './excitation.ts';

/** A fit of two amounts, 3 and 5, on 20 eV channels, with so much of the continuum that electrons bring with them. */
const fitWith = (ratio: number, amounts = [3, 5]): SpectrumFit =>
  ({
    design: {
      layout: {
        amounts: () => Float64Array.from(amounts),
        splines: () => Float64Array.of(0, 160 * ratio, 160 * ratio, 1e6, 0),
      },
    },
    fit: { coefficients: new Float64Array(0) },
    at: { instrument: { axis: { offsetEv: 0, gainEv: 20 } } },
  }) as unknown as SpectrumFit;

it('lines with less than an eighth of the continuum of electrons are of photons', () => {
  expect(continuumRatio(fitWith(0.7))).toBeCloseTo(0.7, 12);
  expect(excitationOf(20_000, fitWith(0.119))).toBe('photons');
  expect(excitationOf(20_000, fitWith(0.121))).toBe('electrons');
  expect(excitationOf(20_000, fitWith(1, [0, 0]))).toBe('electrons');
});

it('a beam that goes through a foil is told by its energy', () => {
  expect(excitationOf(200_000, fitWith(1))).toBe('transmission');
  expect(excitationOf(30_000, fitWith(1))).toBe('electrons');
});
