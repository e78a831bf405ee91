import { describe, expect, it } from 'vitest';
import { simulate } from '../simulate/simulate.ts';
import { doubtOf, type Shown } from './doubt.ts';
import { explain } from './explain.ts';

const spectrum = simulate({ composition: 'CaF2*CaCO3' }, { beamKev: 15, totalCounts: 300_000, seed: 5 });
const whole = explain(spectrum, { beamEv: 15_000, takeOffDeg: 35 });
/** Plenty of evidence, but for the rise of chi-square when the element is left out. */
const doubt = (z: number, rise: number, thickWindow: boolean) => {
  const threshold = { deltaC: 36, margin: 10 };
  const shown: Shown = {
    z,
    short: rise,
    margin: 1e4,
    threshold,
    rise,
    rivals: [],
    detectorBrings: false,
    holderBrings: false,
  };
  return doubtOf({ ...whole, thickWindow }, shown)?.kind ?? null;
};

describe('a peak that is not as high as everything else at its place', () => {
  const place = whole.fit.zs.indexOf(20);
  /** The fit with so much of the calcium that it found: a quarter of it stands half as high as the rest. */
  const fit: typeof whole.fit = {
    ...whole.fit,
    fit: {
      ...whole.fit.fit,
      coefficients: whole.fit.fit.coefficients.map((value, k) => (k === place ? 0.25 * value : value)),
    },
  };
  const shown: Shown = {
    ...{ z: 20, short: 1e4, margin: 1e4, threshold: { deltaC: 36, margin: 10 }, rise: 1e4, rivals: [] },
    detectorBrings: false,
    holderBrings: false,
  };
  const calcium = (more: Partial<typeof whole>) => doubtOf({ ...whole, fit, ...more }, shown)?.kind ?? null;
  const inflated = (inflation: number) => new Map([...whole.fitted, [20, { ...whole.fitted.get(20)!, inflation }]]);

  it('is believed where the model fits, and doubted where it misfits by a factor of 2', () => {
    expect(calcium({ fitted: inflated(2) })).toBeNull();
    expect(calcium({ fitted: inflated(2.01) })).toBe('poor-fit-here');
    expect(calcium({ fitted: inflated(9), fit: whole.fit })).toBeNull();
  });

  it('is doubted where photons excite, and where another line may have been moved to its place', () => {
    expect(calcium({ excitation: 'photons' })).toBe('excitation-doubtful');
    expect(calcium({ excitation: 'photons', fit: whole.fit })).toBeNull();
    const { layout } = fit.design;
    const i = layout.nuisances.findIndex(({ owner, kind }) => owner === 20 && kind === 'shift');
    const at = layout.nuisance(i);
    const moved = (sigmas: number, of = fit) => ({
      ...of,
      fit: {
        ...of.fit,
        coefficients: of.fit.coefficients.map((value, k) => (k === at ? sigmas * layout.nuisances[i].sigma : value)),
      },
    });
    expect(calcium({ fit: moved(3.1) })).toBe('misplaced');
    expect(calcium({ fit: moved(2.9) })).toBeNull();
    expect(calcium({ fit: moved(3.1, whole.fit) })).toBeNull();
  });

  it('is none where there is less than a fiftieth of the rest', () => {
    const none = fit.fit.coefficients.map((value, k) => (k === place ? 0.01 * value : value));
    expect(calcium({ fit: { ...fit, fit: { ...fit.fit, coefficients: none } } })).toBe('no-peak');
  });
});

// Soft L lines of iron and manganese lie upon F K (Bearden, Rev. Mod. Phys. 39 (1967) 78).
describe('what lies before a thick window', () => {
  it.each([
    ['oxygen', 8, 200],
    ['fluorine', 9, 1000],
  ])('%s must show far more there', (_, z, asked) => {
    expect(doubt(z, asked - 1, true)).toBe('behind-window');
    expect(doubt(z, asked, true)).toBeNull();
    expect(doubt(z, asked - 1, false)).toBeNull();
  });

  it('asks no more of what gets through', () => {
    expect(doubt(20, 50, true)).toBeNull();
  });
});
