import { describe, expect, it } from 'vitest';
import { massFractionsOf } from '../atomic/composition.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import { createEmission } from '../emission/thick/characteristic.ts';
import { columnOf, spreadOut, valueAt, type Column } from './column.ts';
import { channelOf } from './instrument.ts';
import { instrumentNuisances, memberNuisances, type Member } from './nuisances.ts';
import { orthogonaliser, type Orthogonaliser } from './orthogonaliser.ts';
import { radiativeAugerBands } from './radiative-auger.ts';
import { elementTemplate, groupTemplates, lineAreas } from './templates.ts';

const n = 2048;
const [lo, hi] = [20, 1900];
const instrument = { axis: { offsetEv: 0, gainEv: 10 }, detector: DEFAULT_DETECTOR };
const elements = [8, 14, 20, 26, 50, 82];
const areas = lineAreas(createEmission(20_000, 40).lines(massFractionsOf('PbSnO3')), instrument, elements);

function member(z: number): Member {
  const template = elementTemplate(z, areas, instrument, n);
  const groups = groupTemplates(z, areas, instrument, n);
  return {
    template,
    groups,
    bands: radiativeAugerBands(z, areas, instrument, n),
    amount: 1e6 / template.area,
    heights: groups.map(() => 1),
  };
}

const weights = Float64Array.from({ length: n }, (_, i) => 1 / (20 + 5000 / (i + 1)));
const orthogonal = orthogonaliser(weights, lo, hi);
const product = (a: Column, b: Column): number => {
  let sum = 0;
  for (let i = lo; i < hi; i++) sum += weights[i] * valueAt(a, i) * valueAt(b, i);
  return sum;
};
const cosine = (a: Column, b: Column): number => product(a, b) / Math.sqrt(product(a, a) * product(b, b));

describe('nuisances of a member', () => {
  it.each(elements)('of Z = %i are orthogonal to its own template in the metric of the fit', (z) => {
    const own = member(z);
    const nuisances = memberNuisances(own, instrument, orthogonal, n);
    expect(nuisances.length).toBeGreaterThan(2);
    for (const { column, owner, sigma } of nuisances) {
      expect(Math.abs(cosine(column, own.template.column))).toBeLessThan(1e-9);
      expect(owner).toBe(z);
      expect(sigma).toBeGreaterThan(0);
      expect(sigma * Math.sqrt(orthogonal.informationOf(column, own.template.column))).toBeGreaterThan(0.2);
    }
  });

  it('are fewer where there are fewer counts, and none where there are none', () => {
    const lead = member(82);
    const counted = [1e6, 1e3, 0].map(
      (amount) => memberNuisances({ ...lead, amount: amount / lead.template.area }, instrument, orthogonal, n).length,
    );
    expect(counted[1]).toBeLessThan(counted[0]);
    expect(counted[2]).toBe(0);
  });

  it('leave the leading group of the best-known family alone', () => {
    const kinds = memberNuisances(member(82), instrument, orthogonal, n).map(({ kind, label }) => `${kind} ${label}`);
    expect(kinds).toContain('group-ratio Lβ1');
    expect(kinds).not.toContain('group-ratio Lα');
    expect(kinds).toContain('family-ratio M to L');
    expect(kinds).not.toContain('family-ratio L to M');
  });

  it('doubt a ratio the more, the higher it was found: as its logarithm, twice the usual doubt at most', () => {
    const iron = member(26);
    const sigmaAt = (ratio: number): number => {
      const heights = iron.groups.map(({ group }) => (group.family === 'L' ? ratio : 1));
      return memberNuisances({ ...iron, heights }, instrument, orthogonal, n).find(
        ({ kind }) => kind === 'family-ratio',
      )!.sigma;
    };
    expect(sigmaAt(0.3)).toBe(0.35);
    expect(sigmaAt(1)).toBe(0.35);
    // 1 / ln 2 and 2 / ln 3.
    expect(sigmaAt(2) / 0.35).toBeCloseTo(1.4427, 4);
    expect(sigmaAt(3) / 0.35).toBeCloseTo(1.8205, 4);
    expect(sigmaAt(3.6)).toBe(0.7);
    expect(sigmaAt(20)).toBe(0.7);
  });

  it('reach as far as a group is high: its shift and width, not its ratio', () => {
    const iron = member(26);
    const half = { ...iron, heights: iron.groups.map(() => 0.5) };
    const norms = (of: Member) =>
      new Map(
        memberNuisances(of, instrument, orthogonal, n)
          .filter(({ label }) => label === 'Kβ')
          .map(({ kind, column }) => [kind, product(column, column)]),
      );
    const [whole, halved] = [norms(iron), norms(half)];
    expect(halved.get('shift')! / whole.get('shift')!).toBeCloseTo(0.25, 6);
    expect(halved.get('width')! / whole.get('width')!).toBeCloseTo(0.25, 6);
    expect(halved.get('group-ratio')! / whole.get('group-ratio')!).toBeCloseTo(1, 6);
  });
});

describe('moves of the axis', () => {
  const prior = { mean: 0, sigma: 1 };
  const all = { offset: prior, gain: prior, noise: prior, fano: prior };
  const none: Orthogonaliser = {
    column: (column, factor) => columnOf(spreadOut(column, n).map((v) => v * factor)),
    information: () => 1,
    freed: (column) => column,
    informationOf: () => 1,
  };
  const moved = (z: number, offsetEv: number, gainEv: number): Float64Array =>
    spreadOut(elementTemplate(z, areas, { ...instrument, axis: { offsetEv, gainEv } }, n).column, n);
  /** Largest difference of a column from what it stands for, relative to the largest value of that; between two energies. */
  const worst = (column: Column, change: Float64Array, fromEv = 0, toEv = 20_000): number => {
    const [from, to] = [fromEv, toEv].map((energy) => Math.round(channelOf(instrument.axis, energy)));
    const within = [...change.keys()].slice(Math.max(0, from), to);
    const largest = Math.max(...within.map((i) => Math.abs(change[i])));
    return Math.max(...within.map((i) => Math.abs(change[i] - valueAt(column, i)))) / largest;
  };
  const changeByOffset = (z: number, amount: number): Float64Array => {
    const down = moved(z, -0.5, 10);
    return moved(z, 0.5, 10).map((value, i) => (value - down[i]) * amount);
  };
  const changeByGain = (z: number, amount: number): Float64Array => {
    const step = 5e-5;
    const narrow = moved(z, 0, 10 * (1 - step));
    return moved(z, 0, 10 * (1 + step)).map((value, i) => ((value - narrow[i]) / (2 * step)) * amount);
  };

  it('move every peak as they do the axis', () => {
    const iron = member(26);
    const [offset, gain] = instrumentNuisances([iron], instrument, all, none, n);
    // The ends of the tails' support move in whole channels: 0.7 % of the largest.
    expect(worst(offset.column, changeByOffset(26, iron.amount))).toBeLessThan(0.01);
    expect(worst(gain.column, changeByGain(26, iron.amount))).toBeLessThan(0.02);
  });

  // With 2 million counts of S and Mo at 2.3 keV, their escape peaks by 0.57 keV once dragged the axis to a place that explained nothing.
  it('move an escape peak by its own energy, not by that of its line', () => {
    const calcium = member(20);
    const [offset, gain] = instrumentNuisances([calcium], instrument, all, none, n);
    // Ca K-alpha 3691 eV (X-Ray Data Booklet, table 1-2) less Si K-alpha 1740 eV.
    const [from, to] = [3691 - 1740 - 120, 3691 - 1740 + 120];
    expect(worst(offset.column, changeByOffset(20, calcium.amount), from, to)).toBeLessThan(0.05);
    expect(worst(gain.column, changeByGain(20, calcium.amount), from, to)).toBeLessThan(0.05);
  });
});
