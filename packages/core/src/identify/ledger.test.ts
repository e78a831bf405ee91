import { describe, expect, it } from 'vitest';
import { LINE_TABLE } from '../atomic/lines.ts';
import { DEFAULT_DETECTOR } from '../detector/detector.ts';
import type { Scene } from '../fit/expansion.ts';
import { Layout, type ArtefactName } from '../fit/layout.ts';
import type { SpectrumFit } from '../fit/spectrum-fit.ts';
import { columnOf } from '../model/column.ts';
import { ledgerOf, partsOf } from './ledger.ts';

const N = 12;
const range = { lo: 2, hi: 10, behindHump: false };
const flat = (height: number) => columnOf(new Float64Array(N).fill(height));
const artefact = (name: ArtefactName) => ({ name, column: flat(1), prior: null });
const nuisance = (owner: number) => ({ owner, kind: 'shift', label: 'Kα', column: flat(1), mean: 0, sigma: 1 });

/** Sulphur of 5 counts a channel and lead of 7, 3 of continuum, 2 of a shelf, 1 of doubt about lead, half a count of the axis. */
const layout = new Layout(
  [16, 82].map((z) => ({ z, column: flat(1) })) as unknown as Layout['templates'],
  [artefact('background'), artefact('charge shelf'), artefact('sum peaks')],
  [nuisance(82), nuisance(0)] as unknown as Layout['nuisances'],
);
const fit = {
  zs: [16, 82],
  at: { instrument: { axis: { offsetEv: 0, gainEv: 20 }, detector: DEFAULT_DETECTOR } },
  design: { layout, areas: new Float64Array(LINE_TABLE.count) },
  fit: { coefficients: Float64Array.of(5, 7, 3, 2, 0.25, 1, 0.5) },
  background: new Float64Array(N).fill(3),
} as unknown as SpectrumFit;
const scene = { counts: new Float64Array(N).fill(20), range } as unknown as Scene;
const parts = partsOf(scene, fit);
const ledger = ledgerOf(scene, parts);

describe('the account of every count', () => {
  it('names the continuum, elements by falling counts, then artefacts', () => {
    expect(parts.map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      'background continuum',
      'element Pb',
      'element S',
      'artefact charge shelf',
      'artefact sum peaks',
      'artefact escape peaks',
      'artefact axis and width residue',
    ]);
  });

  it('gives each its counts in the range, an element with its own doubts', () => {
    // 8 channels are in the range.
    const counts = Object.fromEntries(ledger.map(({ name, counts: value }) => [name, value]));
    expect(counts).toMatchObject({
      continuum: 24,
      Pb: 8 * (7 + 1),
      S: 40,
      'charge shelf': 16,
      'sum peaks': 2,
      'escape peaks': 0,
      'axis and width residue': 4,
    });
    expect(ledger.at(-2)).toMatchObject({ part: 'unexplained', counts: 160 - 150 });
    expect(ledger.at(-1)).toMatchObject({ part: 'outside-range', counts: 80 });
  });

  it('adds up to what was counted, and holds nothing outside the range', () => {
    expect(ledger.reduce((sum, { counts }) => sum + counts, 0)).toBeCloseTo(20 * N, 9);
    for (const { name, counts } of parts)
      expect([name, ...[0, 1, 10, 11].map((i) => counts[i])]).toEqual([name, 0, 0, 0, 0]);
    expect(fit.background[0]).toBe(3);
  });
});

describe('escape peaks', () => {
  it('are taken out of their element and told by themselves', () => {
    // K lines of iron: a silicon detector loses some of them by 1.74 keV (silicon K, X-Ray Data Booklet, table 1-2).
    const n = 512;
    const areas = Float64Array.from({ length: LINE_TABLE.count }, (_, i) =>
      i >= LINE_TABLE.first[26] && i < LINE_TABLE.first[27] && LINE_TABLE.subshell[i] === 0 ? 1000 : 0,
    );
    const iron = new Layout(
      [{ z: 26, column: columnOf(new Float64Array(n).fill(10)) }] as unknown as Layout['templates'],
      [],
      [],
    );
    const told = partsOf({ ...scene, counts: new Float64Array(n), range: { ...range, lo: 0, hi: n } }, {
      ...fit,
      zs: [26],
      design: { layout: iron, areas },
      fit: { coefficients: Float64Array.of(2) },
      background: new Float64Array(n),
    } as unknown as SpectrumFit);
    const [element, escape] = ['Fe', 'escape peaks'].map((one) => told.find(({ name }) => name === one)!.counts);
    const highest = escape.indexOf(Math.max(...escape));
    expect(Math.abs(20 * highest - (6400 - 1740))).toBeLessThanOrEqual(30);
    expect(escape[highest]).toBeGreaterThan(0);
    for (let i = 0; i < n; i++) expect(Math.abs(element[i] + escape[i] - 20)).toBeLessThan(1e-9);
  });
});
