import type { Kinds, SettingSummary } from '@limner/core';
import { expect, it } from 'vitest';
import { instrumentHtml, kindsHtml } from './report-sections.ts';

const member = (file: string, best: string | null = null) =>
  ({ file, composition: { seen: ['Pb'] }, best: best && { id: best, name: best } }) as never;
const kind = {
  number: 1,
  name: 'Pb with Sn',
  members: [member('a<'), member('b')],
  representative: member('a<'),
  elements: [
    { symbol: 'Pb', share: 0.784 },
    { symbol: 'Sn', share: 0.216 },
  ],
  best: { material: { id: 'w', name: 'Lead white' }, spectra: 2 },
};
const kinds = (more: Partial<Kinds> = {}): Kinds => ({ kinds: [kind], outliers: [], also: new Map(), ...more });

it('tells the kinds, and how an outlier differs from the closest', () => {
  const difference = { symbol: 'Sn', sigmas: 4.26 };
  const outliers = [
    { member: member('odd'), closest: { kind, difference } },
    { member: member('far'), closest: { kind, difference: { symbol: null, sigmas: Infinity } } },
    { member: member('alone'), closest: null },
  ];
  const html = kindsHtml(kinds({ outliers }));
  expect(html).toContain('<h2>Similar spectra: 2 in 1\u00a0kind</h2>');
  expect(html).toMatch(
    /Pb with Sn<\/td><td class="number">2<\/td><td>Pb 78 Sn 22<\/td><td>Lead white \(2\/2\)<\/td><td>a&lt;</,
  );
  expect(html).toContain('odd: Pb; closest to kind 1 (Pb with Sn), but Sn differs by 4.3 standard uncertainties<');
  expect(html).toContain('far: Pb; closest to kind 1 (Pb with Sn), but the share of the medium differs<');
  expect(html).toContain('>alone: Pb<');
  expect(html).toContain('None of them could also belong to another kind');
});

it('names a hundred outliers and counts the others; without kinds there is nothing to say', () => {
  const outliers = Array.from({ length: 103 }, (_, i) => ({ member: member(`g${i}`), closest: null }));
  const html = kindsHtml(kinds({ outliers, also: new Map([['b', [2]]]) }));
  expect(html).toContain('>g99: Pb<');
  expect(html).not.toContain('>g100: Pb<');
  expect(html).toContain('and 3 more, in kinds.csv');
  expect(html).toContain('With so few counts, 1 of them could also belong');
  expect(kindsHtml(kinds({ kinds: [] }))).toBe('');
});

const state = (offsetEv: number) => ({
  axis: { offsetEv, gainEv: 10.0042 },
  pivotEv: 6012,
  positionSigmaEv: 0.312,
  gainSigma: 0.00012,
  noiseEv: { mean: 61.27, sigma: 1.04 },
  fano: { mean: 0.12, sigma: 0.01 },
  thickWindow: false,
});
const setting = (more: Partial<SettingSummary> = {}): SettingSummary => ({
  setting: '10 eV per channel from 0 eV, 2048 channels',
  spectra: 12,
  asked: 9,
  outlying: ['x<.msa'],
  timed: true,
  begins: state(-3.21),
  ends: state(-2.87),
  scatter: [0.523, 0.00004, 0.81, 0],
  lessons: [
    {
      z: 82,
      quantity: 'Pb M against its leading L',
      by: ['std.msa'],
      before: { mean: 0, sigma: 0.2 },
      after: { mean: 0.11, sigma: 0.04 },
    },
  ],
  known: [{ file: 'std.msa', contradictions: ['Zn is not there'] }],
  ...more,
});

it('tells the instrument: what the session shows, beside what is usual, and what reference materials changed', () => {
  const html = instrumentHtml([setting()]);
  expect(html).toContain('estimated from 9 of 12\u00a0spectra');
  expect(html).toMatch(
    /Offset, eV<\/th><td>-3\.2 to -2\.9<\/td><td>0\.31 \(at 6\.0 keV\)<\/td><td>[\d.]+<\/td><td>0\.52</,
  );
  expect(html).toMatch(/Gain, eV per channel<\/th><td>10\.0042<\/td><td>0\.012\s%/);
  expect(html).toMatch(/Pb M against its leading L<\/th><td>std\.msa<\/td><td>[^<]*0\.2<\/td><td>0\.11\s±\s0\.04</);
  expect(html).toContain('std.msa: Zn is not there');
  expect(html).toContain('x&lt;.msa');
});

it('says so where a setting has too few spectra, and nothing where there are no settings', () => {
  const html = instrumentHtml([setting({ spectra: 2, begins: null, ends: null, outlying: [], known: [] })]);
  expect(html).toContain('2\u00a0spectra with this setting: too few to calibrate from');
  expect(html).not.toContain('<table');
  expect([instrumentHtml([]), instrumentHtml(null)]).toEqual(['', '']);
});
