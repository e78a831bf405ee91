import { describe, expect, it } from 'vitest';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { MISPLACED_SIGMAS, misplacedLine } from './line-place.ts';

/** A fit of fluorine whose K alpha was moved by so many standard uncertainties of 4 eV. */
function fitWith(sigmas: number, kind = 'shift'): SpectrumFit {
  const nuisances = [{ kind, owner: 9, label: 'Kα', sigma: 4 }];
  return {
    design: {
      layout: { nuisances, nuisance: (i: number) => 1 + i },
      members: [
        {
          template: { z: 9 },
          groups: [
            { group: { name: 'Kβ' }, area: 1 },
            { group: { name: 'Kα' }, area: 9 },
          ],
        },
      ],
    },
    fit: { coefficients: Float64Array.of(5000, 4 * sigmas) },
  } as unknown as SpectrumFit;
}

describe('a line beside its place', () => {
  it('is told from three standard uncertainties on, with its side', () => {
    expect(MISPLACED_SIGMAS).toBe(3);
    expect(misplacedLine(fitWith(3), 9)).toBeNull();
    expect(misplacedLine(fitWith(3.01), 9)).not.toBeNull();
    expect(misplacedLine(fitWith(-3.5), 9)).toEqual({ group: 'Kα', shiftEv: -14, sigmas: 3.5 });
    expect(misplacedLine(fitWith(3.5), 9)).toMatchObject({ shiftEv: 14 });
  });

  it('is none where its place is not free, or the element is not in the fit', () => {
    expect(misplacedLine(fitWith(9, 'width'), 9)).toBeNull();
    expect(misplacedLine(fitWith(9), 8)).toBeNull();
  });
});
