import { describe, expect, it } from 'vitest';
import { columnOf } from '../model/column.ts';
import type { Part } from './ledger.ts';
import { localAmount, type Window } from './local-amount.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import type { Frame } from './state.ts';

const N = 200;
/** Channels of 20 eV from -100 eV: the peak at 2 keV is at channel 105, its FWHM of 100 eV five channels. */
const axis = { offsetEv: -100, gainEv: 20 };
const [CENTRE_EV, FWHM] = [2000, 100];
const gaussian = (centre: number, width = 5): Float64Array =>
  Float64Array.from({ length: N }, (_, i) => Math.exp(-4 * Math.LN2 * ((i - centre) / width) ** 2));
const own = gaussian(105);
const EXPECTED = 49;
/** 2.5 FWHM to each side. */
const [FROM, TO] = [93, 118];

interface Given {
  /** Counts over what the fit expects. */
  readonly more?: (i: number) => number;
  readonly amount?: number;
  readonly parts?: readonly Part[];
  readonly range?: readonly [number, number];
  readonly centreEv?: number;
}
function local({ more = () => 0, amount = 0, parts = [], range = [0, N], centreEv = CENTRE_EV }: Given = {}) {
  const expected = new Float64Array(N).fill(EXPECTED);
  const counts = expected.map((value, i) => value + more(i));
  const [lo, hi] = range;
  return localAmount({
    frame: { counts, range: { lo, hi } } as unknown as Frame,
    fit: { at: { instrument: { axis } }, fit: { expected } } as unknown as SpectrumFit,
    ...({ parts, own: columnOf(own), amount, symbol: 'S', centreEv, fwhm: FWHM } satisfies Partial<Window>),
  });
}
const part = (kind: Part['kind'], name: string, counts: Float64Array): Part => ({ kind, name, counts });
const neighbour = (height: number, centre = 113, kind: Part['kind'] = 'element'): Part =>
  part(
    kind,
    'Mo',
    gaussian(centre).map((value) => height * value),
  );

/** Amount and standard deviation of the first of some columns by weighted least squares, those with a prior drawn to 0. */
function leastSquares(columns: readonly (readonly number[])[], free: number, rest: readonly number[]) {
  const p = columns.length;
  const a = columns.map((x, r) => [
    ...columns.map(
      (y, c) => x.reduce((sum, value, i) => sum + (value * y[i]) / EXPECTED, 0) + (r === c && r >= free ? 1 : 0),
    ),
    x.reduce((sum, value, i) => sum + (value * rest[i]) / EXPECTED, 0),
    r === 0 ? 1 : 0,
  ]);
  // Gauss and Jordan.
  for (let k = 0; k < p; k++) {
    const pivot = a[k][k];
    a[k] = a[k].map((value) => value / pivot);
    for (let r = 0; r < p; r++) {
      const by = a[r][k];
      if (r !== k) a[r] = a[r].map((value, c) => value - by * a[k][c]);
    }
  }
  return { amount: a[0][p], sigma: Math.sqrt(a[0][p + 1]) };
}
const channels = Array.from({ length: TO - FROM }, (_, k) => FROM + k);
const background = [() => 1, (x: number) => x, (x: number) => x * x].map((of) =>
  channels.map((i) => of((2 * (i - FROM)) / (TO - FROM - 1) - 1)),
);

describe('the amount that a peak shows by itself', () => {
  it('is the fit’s where the counts are as it expects them', () => {
    // To what little the free background weighs.
    expect(local({ amount: 300 }).amount).toBeCloseTo(300, 5);
  });

  it('is what the counts hold more, whatever bent background lies under it', () => {
    const found = local({ amount: 300, more: (i) => 80 * own[i] + 3 + 0.5 * (i - 105) - 0.04 * (i - 105) ** 2 });
    expect(found.amount).toBeCloseTo(380, 5);
  });

  it('has the standard deviation of weighted least squares beside a free parabola', () => {
    const columns = [channels.map((i) => own[i]), ...background];
    expect(local().sigma).toBeCloseTo(
      leastSquares(
        columns,
        4,
        channels.map(() => 0),
      ).sigma,
      7,
    );
  });

  it('looks 2.5 FWHM to each side, and not beyond the range', () => {
    const spike = (at: number) => (i: number) => (i === at ? 500 : 0);
    for (const inside of [FROM, TO - 1]) expect(Math.abs(local({ more: spike(inside) }).amount)).toBeGreaterThan(0.1);
    for (const outside of [FROM - 1, TO]) expect(local({ more: spike(outside) }).amount).toBeCloseTo(0, 9);
    const range = [98, 112] as const;
    for (const outside of [97, 112]) expect(local({ more: spike(outside), range }).amount).toBeCloseTo(0, 9);
    for (const inside of [98, 111]) expect(Math.abs(local({ more: spike(inside), range }).amount)).toBeGreaterThan(0.1);
  });
});

describe('a neighbour', () => {
  it.each([
    ['element', 0.05],
    ['artefact', 0.2],
  ] as const)('that is an %s may be wrong by that part, lie beside its place and be bent', (kind, scale) => {
    const height = 4000;
    const counts = neighbour(height).counts;
    const bends = Array.from({ length: 11 }, (_, k) =>
      channels.map((i, c) => {
        // Half an FWHM apart, 0.35 of it wide, from the first channel on.
        const bump = Math.exp(-0.5 * ((20 * c - 50 * k) / 35) ** 2);
        return 0.005 * bump * counts[i];
      }),
    );
    const columns = [
      channels.map((i) => own[i]),
      ...background,
      channels.map((i) => scale * counts[i]),
      channels.map((i) => ((counts[i - 1] - counts[i + 1]) / 2) * (1.5 / 20)),
      ...bends,
    ];
    const more = (i: number): number => 30 * own[i] + 0.03 * counts[i] + (i % 3);
    const wanted = leastSquares(columns, 4, channels.map(more));
    const found = local({ more, parts: [neighbour(height, 113, kind)] });
    expect(Math.abs(found.amount / wanted.amount - 1)).toBeLessThan(1e-4);
    expect(Math.abs(found.sigma / wanted.sigma - 1)).toBeLessThan(1e-4);
  });

  it('counts where its highest channel is above the scatter of the counts', () => {
    const height = Math.sqrt(EXPECTED);
    const alone = local().sigma;
    expect(local({ parts: [neighbour(0.99 * height)] }).sigma).toBe(alone);
    expect(local({ parts: [neighbour(height)] }).sigma).toBeGreaterThan(alone);
  });

  it('is neither the background, which is free, nor the element itself', () => {
    const alone = local().sigma;
    for (const [kind, name] of [
      ['background', 'continuum'],
      ['element', 'S'],
    ] as const)
      expect(
        local({
          parts: [
            part(
              kind,
              name,
              gaussian(113).map((value) => 1e4 * value),
            ),
          ],
        }).sigma,
      ).toBe(alone);
  });

  it('makes a peak on its flank uncertain, the more the stronger it is', () => {
    const [weak, strong] = [1e3, 1e5].map((height) => local({ parts: [neighbour(height, 109)] }).sigma);
    expect(weak).toBeGreaterThan(local().sigma);
    expect(strong).toBeGreaterThan(2 * weak);
    // Several neighbours at once, and many windows after each other, are the same as one by one.
    const again = local({ parts: [neighbour(1e3, 109)] }).sigma;
    expect(again).toBe(weak);
  });
});
