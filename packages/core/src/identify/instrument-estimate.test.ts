import { describe, expect, it } from 'vitest';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import type { Spectrum } from '../spectrum/spectrum.ts';
import { instrumentEstimate, instrumentPull } from './instrument-estimate.ts';

const PRIORS = { offset: [2, 20], gain: [0, 0.01], noise: [1, 8], fano: [0, 0.05] } as const;
const KINDS = Object.keys(PRIORS) as (keyof typeof PRIORS)[];
/** How well the counts alone know offset, gain, noise and Fano factor, and what they say of them. */
const OWN = { offset: [5, 0.5], gain: [0.002, 1e-4], noise: [-3, 2], fano: [0.01, 0.02] } as const;

interface Coefficient {
  readonly prior: readonly [number, number];
  readonly own: readonly [number, number];
}
const together = ({ prior: [mean, sigma], own: [value, by] }: Coefficient): { value: number; variance: number } => {
  const variance = 1 / (1 / sigma ** 2 + 1 / by ** 2);
  return { value: variance * (mean / sigma ** 2 + value / by ** 2), variance };
};

const SHELF = { name: 'charge shelf', prior: [0.003, 0.002] } as const;
const RATIO = { kind: 'group-ratio', owner: 50, label: 'Lβ', prior: [0, 0.2] } as const;

/** A fit in which the counts say of a shelf and of a line ratio what is given. */
function fitWith(shelf: readonly [number, number], ratio: readonly [number, number], kind: string = RATIO.kind) {
  const all = [
    ...KINDS.map((one) => together({ prior: PRIORS[one], own: OWN[one] })),
    together({ prior: SHELF.prior, own: shelf }),
    together({ prior: RATIO.prior, own: ratio }),
  ];
  const size = all.length;
  const covariance = new Float64Array(size * size);
  all.forEach(({ variance }, i) => (covariance[i * (size + 1)] = variance));
  const [mean, sigma] = SHELF.prior;
  return {
    design: {
      layout: {
        size,
        indexOf: (one: (typeof KINDS)[number]) => KINDS.indexOf(one),
        artefacts: [{ name: SHELF.name, prior: { mean, sigma } }],
        artefact: (i: number) => 4 + i,
        nuisances: [{ ...RATIO, kind, mean: RATIO.prior[0], sigma: RATIO.prior[1] }],
        nuisance: (i: number) => 5 + i,
      },
    },
    fit: { coefficients: Float64Array.from(all, ({ value }) => value), covariance },
    at: {
      instrument: {
        axis: { offsetEv: -90, gainEv: 20.2 },
        detector: { ...DEFAULT_DETECTOR, noiseEv: 55, fano: 1.1 * DEFAULT_DETECTOR.fano },
      },
      prior: Object.fromEntries(KINDS.map((one) => [one, { mean: PRIORS[one][0], sigma: PRIORS[one][1] }])),
    },
  } as unknown as SpectrumFit;
}
const spectrum = {
  axis: { offsetEv: -100, gainEv: 20 },
  counts: Float64Array.of(300, 700),
  liveTimeS: 50,
} as unknown as Spectrum;
const said = (fit: SpectrumFit, more: Partial<Spectrum> = {}) =>
  instrumentEstimate({ ...spectrum, ...more }, { fit, thickWindow: true });
const usual = fitWith([0.004, 1e-3], [0.1, 0.05]);

describe('what a spectrum says of its instrument', () => {
  it('is what its counts say, the priors taken out again', () => {
    const { information, vector } = said(usual);
    // Counted from the header: the fit stands 10 eV, 1 %, 55 eV of noise and 10 % of the Fano factor from its zero.
    const here = [10, 0.01, 55, 0.1];
    KINDS.forEach((kind, i) => {
      const [value, sigma] = OWN[kind];
      expect(Math.abs(information[i * 5] * sigma ** 2 - 1)).toBeLessThan(1e-4);
      expect(vector[i] / information[i * 5]).toBeCloseTo(here[i] + value, 3);
    });
  });

  it('has a rate where the file has a live time', () => {
    expect(said(usual).rate).toBe(20);
    expect(said(usual, { liveTimeS: null }).rate).toBeNull();
    expect(said(usual, { liveTimeS: 0 }).rate).toBeNull();
    expect(said(usual).thickWindow).toBe(true);
  });

  it('is a shelf where the counts know as much of it as was believed before', () => {
    expect(said(fitWith([0.004, 0.00199], [0, 9])).artefacts).toHaveLength(1);
    expect(said(fitWith([0.004, 0.00201], [0, 9])).artefacts).toEqual([]);
    const [{ name, value, information }] = said(usual).artefacts;
    expect(name).toBe('charge shelf');
    expect(value).toBeCloseTo(0.004, 9);
    expect(information * 1e-6).toBeCloseTo(1, 6);
  });

  it('is a line ratio where the counts say a thousandth of what was believed before', () => {
    const ratios = (sigma: number, kind?: string) => said(fitWith([0.004, 1e-3], [0.1, sigma], kind)).ratios;
    const limit = 0.2 / Math.sqrt(1e-3);
    expect(ratios(0.99 * limit)).toHaveLength(1);
    expect(ratios(1.01 * limit)).toEqual([]);
    const [one] = ratios(0.05);
    expect(one).toMatchObject({ z: 50, kind: 'group-ratio', label: 'Lβ', usualSigma: 0.2 });
    expect([one.mean, one.sigma].map((value) => Math.round(1e6 * value) / 1e6)).toEqual([0.1, 0.05]);
    expect(ratios(0.05, 'family-ratio')).toHaveLength(1);
    expect(ratios(0.05, 'shift')).toEqual([]);
  });
});

it('the quantity that the counts pull farthest from its prior is told, in standard deviations', () => {
  // Offset 5 against 2 with 20; noise -3 against 1 with 8; gain 0.002 with 0.01; Fano 0.01 with 0.05.
  const { quantity, sigmas } = instrumentPull({ fit: usual });
  expect(quantity).toBe('noise');
  const { value } = together({ prior: PRIORS.noise, own: OWN.noise });
  expect(sigmas).toBeCloseTo(Math.abs(value - 1) / 8, 9);
});
