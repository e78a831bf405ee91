import { describe, expect, it } from 'vitest';
import { cholesky } from '../fit/cholesky.ts';
import { simulate } from '../simulate/simulate.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { massFractionsOf } from '../atomic/composition.ts';
import { identify, readingOf } from './identify.ts';
import { readInstrument } from './instrument.ts';
import { readKnown } from './known.ts';
import { planMeasurement } from './plan.ts';
import { guarded, TooFewCountsError, UnexplainableError } from './prepare.ts';

describe('whatever fails inside a reading', () => {
  const spectrum = { ...simulate({ composition: 'CaCO3' }, { beamKev: 20, totalCounts: 1000, seed: 1 }) };
  const named = { ...spectrum, source: { ...spectrum.source, name: 'grain-07.msa' } };
  const failing = (fail: () => never) => () => guarded(named, fail);
  const raise = (error: Error) => (): never => {
    throw error;
  };

  it('names the spectrum and says what to check', () => {
    const fall = failing(raise(new TypeError('x is undefined')));
    expect(fall).toThrow(UnexplainableError);
    expect(fall).toThrow(/^grain-07\.msa: the reading failed \(x is undefined\); check the axis and the beam energy/);
    expect(failing(raise(new RangeError('Invalid array length')))).toThrow(/^grain-07\.msa: .*Invalid array length/);
    expect(() => guarded(named, () => cholesky(Float64Array.of(-1), 1))).toThrow(
      /^grain-07\.msa: the counts do not look like an X-ray spectrum on this axis; check/,
    );
  });

  it('is caught by every conductor: an axis on which all channels lie at one energy', () => {
    const odd: Spectrum = { ...named, axis: { offsetEv: 0, gainEv: 0 } };
    const conductors = [identify, readingOf, planMeasurement, readInstrument];
    for (const read of [...conductors, (one: Spectrum) => readKnown(one, massFractionsOf('CaCO3'))])
      expect(() => read(odd)).toThrow(/^grain-07\.msa: the counts do not look like an X-ray spectrum/);
  });

  it('leaves errors that say themselves what to do', () => {
    expect(failing(raise(new TooFewCountsError('grain-07.msa holds 3 counts')))).toThrow(TooFewCountsError);
    expect(guarded(named, () => 7)).toBe(7);
  });
});
