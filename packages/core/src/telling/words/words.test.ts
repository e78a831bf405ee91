import { describe, expect, it } from 'vitest';
import { finding } from '../../../../../tests/fixtures/record.ts';
import type { ElementFinding, Rival } from '../../identify/finding.ts';
import { MATERIALS } from '../../pigments/knowledge.ts';
import { answerClaims } from '../../record/claims.ts';
import { grainName, lineOf, namedRival, within } from '../terms/names.ts';
import { wordedClaim, wordedWithout } from './claim.ts';
import { contradictionText } from './contradiction.ts';
import { findingReason } from './finding-reason.ts';
import { wordedFileWarning, wordedWarning, type WarningData } from './warnings.ts';
import type { FileWarning } from '../../spectrum/file-warning.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const rival = (name: string, deltaC: number): Rival => ({ kind: 'element', name, deltaC, settling: [] });

describe('the reason of a verdict', () => {
  const told = (one: Rival | null, orDetector = false): string =>
    plain(findingReason({ kind: 'required', rise: 76_123, rival: one, orDetector }));

  it('says what leaving it out costs, and what the best rival does', () => {
    expect(told(null)).toBe('Leaving it out raises chi-square by 76 000; nothing else takes its place.');
    expect(told(null, true)).toBe(
      'Leaving it out raises chi-square by 76 000; nothing else takes its place. The detector itself can produce this many counts.',
    );
    expect(told(rival('Tl+S', 812))).toBe(
      'Leaving it out raises chi-square by 76 000; putting the best rival, Tl + S, in its place raises it by 810.',
    );
  });

  it('counts a rival of many elements', () => {
    expect(told(rival('B+N+Al+S+K', 60))).toBe(
      'Leaving it out raises chi-square by 76 000. It has no single rival; five elements together still fit worse.',
    );
  });

  it('is a sentence for each kind', () => {
    const kinds = [
      { kind: 'not-excited' },
      { kind: 'hidden' },
      { kind: 'no-counts' },
      { kind: 'gains-little' },
      { kind: 'stands-in', for: 'Pb' },
      { kind: 'short', rise: 0.2 },
      { kind: 'rival-fits', rival: rival('S', -0.03) },
      { kind: 'rare', asked: 14.2 },
    ] as const;
    for (const reason of kinds) expect(findingReason(reason)).toMatch(/^[A-Z][^.]*(\.\d[^.]*)*\.$/);
  });
});

describe('claims', () => {
  const line = { line: 'K-L3', siegbahn: 'Kα1', energyEv: 1041, counts: 0 };
  const limit = { counts: 900, massFraction: 0.12 };
  const common = { limit, lines: [line], under: 'Zn', reason: 'No counts require it.' };
  const unseen = finding('Na', 11, 0, { ...common, verdict: 'not-seen' });
  const present = finding('Zn', 30, 9e4, { massFraction: { value: 0.78, sigma: 0.06 }, reason: 'It stands.' });
  const said = (massFraction: number | null, one: ElementFinding): string =>
    plain(answerClaims([{ symbol: one.symbol, massFraction }], [one]).map(wordedClaim)[0].reason);

  it('that cannot be told say how much could hide, and under what', () => {
    expect(said(null, unseen)).toBe('It could hide here under zinc, up to 12 % by mass. No counts require it.');
    expect(said(0.037, unseen)).toMatch(
      /^3\.7 % by mass could hide here under zinc: the counts leave room for up to 12 %\./,
    );
    expect(said(null, { ...unseen, under: null })).toMatch(/^It could hide here, up to 12 % by mass\./);
    const blind = { ...unseen, verdict: 'blind' as const, limit: null, reason: 'All lines lie under others.' };
    expect(said(0.5, blind)).toBe(
      'This spectrum cannot tell. All lines lie under others. Its lines would lie under zinc.',
    );
  });

  it('that are contradicted say where the amount would show, and how much could hide at most', () => {
    expect(said(0.6, unseen)).toBe(
      '60 % by mass would show in K-L3 (Kα1) at 1.041 keV: no more than 12 % could hide here under zinc. No counts require it.',
    );
  });

  it('that are supported set the amount claimed beside the measured one', () => {
    expect(said(null, present)).toBe('Zn is required by the counts. It stands.');
    expect(said(0.8, present)).toBe(
      'Zn is required by the counts. The measured amount is 78 ± 6 % by mass. It stands.',
    );
    expect(said(0.1, present)).toMatch(/The measured amount is 78 ± 6 % by mass, not 10 %\./);
  });

  it('of elements that are not looked for say so', () => {
    expect(answerClaims([{ symbol: 'He', massFraction: 0.1 }], []).map(wordedClaim)).toEqual([
      { symbol: 'He', massFraction: 0.1, answer: 'cannot-tell', reason: 'He is not among the elements looked for.' },
    ]);
  });

  it('without elements say what takes their place', () => {
    expect(plain(wordedWithout({ symbols: ['Hg', 'S'], instead: ['Tl'], deltaC: 1234 }).reason)).toBe(
      'Without Hg and S, Tl takes their place; penalised chi-square rises by 1200.',
    );
    expect(plain(wordedWithout({ symbols: ['S'], instead: [], deltaC: -3 }).reason)).toBe(
      'Without S, nothing takes its place; penalised chi-square falls by 3.0.',
    );
  });
});

describe('warnings', () => {
  const all: readonly WarningData[] = [
    { code: 'beam-above-continuum', usedKev: 12.4, statedKev: 20 },
    { code: 'beam-below-continuum', endKev: 24.96, statedKev: 20 },
    { code: 'beam-estimated', usedKev: 19.9 },
    { code: 'beam-assumed', usedKev: 20 },
    { code: 'poor-fit', misfit: 2.34 },
    { code: 'not-settled' },
    { code: 'photon-excited' },
    { code: 'thin-foil' },
    { code: 'unfinished' },
    { code: 'oxygen-by-oxides' },
    { code: 'thick-window' },
    { code: 'instrument-differs', quantity: 'noise', sigmas: 7.2 },
    { code: 'image-contradicts', said: [] },
    { code: 'own-materials', own: { file: 'mine.csv', sha256: '', entries: [] } },
  ];

  it('keep their code and are whole sentences without an exponent', () => {
    for (const data of all) {
      const { code, text } = wordedWarning(data);
      expect(code).toBe(data.code);
      expect(text).toMatch(/^[A-Z].*[.?]$/);
      expect(text).not.toMatch(/undefined|NaN|\de[+-]/);
    }
    expect(plain(wordedWarning(all[0]).text)).toMatch(
      /ends at about 12\.4 keV, below the stated beam energy of 20 keV/,
    );
  });
});

describe('warnings of the file', () => {
  const axis = { offsetEv: -200, gainEv: 10 };
  const all: readonly FileWarning[] = [
    { code: 'latin-1' },
    { code: 'stray-text', line: 7, found: 'x\u001b[31mred' },
    { code: 'keyword-repeated', line: 12, keyword: 'BEAMKV' },
    { code: 'livetime-unreadable', keyword: 'LIVETIME', found: 'two min' },
    { code: 'columns-read', axis, energies: { from: 'size', unit: 'keV' }, unreadColumns: 2 },
    { code: 'columns-read', axis, energies: { from: 'given-without-column' }, unreadColumns: 0 },
    { code: 'datatype-mismatch', readAs: 'XY' },
    { code: 'peaks-removed', kinds: ['escape', 'sum'] },
    { code: 'offset-missing', fromChoffsetEv: null },
    { code: 'offset-missing', fromChoffsetEv: -200 },
    { code: 'xunits-conflict', width: '0.01', stated: 'eV', unit: 'keV' },
  ];

  it('keep their code, and are whole sentences without control characters', () => {
    for (const warning of all) {
      const { code, text } = wordedFileWarning(warning);
      expect(code).toBe(warning.code);
      // eslint-disable-next-line no-control-regex -- these must not reach a terminal
      expect(text).toMatch(/^[A-Z#][^\u0000-\u001f]*\.$/);
      expect(text).not.toMatch(/undefined|NaN|\[object/);
    }
  });
});

it('a contradicted label names element and amounts', () => {
  expect(plain(contradictionText({ kind: 'missing', z: 20, expected: 0.4, limit: 0.002 }))).toBe(
    'Calcium is not seen: it should make up 40 %, and as little as 0.20 % would show.',
  );
  expect(plain(contradictionText({ kind: 'amount', z: 20, times: 4.04 }))).toBe(
    'There is 4.0 times as much calcium, relative to the rest, as the label says.',
  );
});

describe('names', () => {
  it('of rivals are those that a practitioner would think of, unless others come far nearer', () => {
    expect(namedRival([rival('Er', 40), rival('Fe', 60)])?.name).toBe('Fe');
    expect(namedRival([rival('Er', 40), rival('Fe', 600)])?.name).toBe('Er');
    expect(namedRival([rival('Er', 4600)])).toBeUndefined();
    expect(namedRival([])).toBeUndefined();
  });

  it('of materials are small inside a sentence, but for peoples and places', () => {
    expect(['Lead white', 'Prussian blue', 'Han purple', 'Portland cement'].map(within)).toEqual([
      'lead white',
      'Prussian blue',
      'Han purple',
      'Portland cement',
    ]);
    for (const { name } of MATERIALS) expect(within(name).toLowerCase()).toBe(name.toLowerCase());
  });

  it('of a grain begin with the most of it', () => {
    expect(grainName([])).toBe('Medium and mounting alone');
    const part = (name: string, others: readonly { name: string; share: number }[] = []) => ({ name, others });
    expect(grainName([part('Smalt'), part('Chalk')], [{ name: 'Quartz' }])).toBe(
      'Smalt with chalk, perhaps with quartz',
    );
    expect(grainName([part('Vermilion'), part('Lead white'), part('Prussian blue')])).toBe(
      'Vermilion with lead white and Prussian blue',
    );
    const copper = [
      { name: 'Malachite', share: 0.25 },
      { name: 'Verdigris', share: 0.25 },
      { name: 'Copper resinate', share: 0.2 },
      { name: 'Copper soap', share: 0.05 },
    ];
    expect(grainName([part('Azurite', copper.slice(0, 2)), part('Chalk', copper.slice(3))])).toBe(
      'Azurite, malachite or verdigris with chalk',
    );
    expect(grainName([part('Azurite', copper)])).toBe('Azurite, malachite or two others');
    const whites = [{ name: 'Titanium white, rutile', share: 0.4 }];
    expect(grainName([part('Lead-tin yellow, type I'), part('Titanium white, anatase', whites)])).toBe(
      'Lead-tin yellow (type I) with titanium white',
    );
  });

  it('of a grain name what may stand in two places once', () => {
    const part = (name: string, other: string) => ({ name, others: [{ name: other, share: 0.4 }] });
    expect(grainName([part('Raw sienna', 'Bole'), part('Bole', 'Raw sienna'), part('Chalk', 'Calcite')])).toBe(
      'Raw sienna or bole with chalk or calcite',
    );
  });

  it('of lines are IUPAC with Siegbahn beside it', () => {
    expect(plain(lineOf('Pb', 'M5-N7'))).toBe('Pb M5-N7 (Mα1)');
    expect(plain(lineOf('Pb', 'no such line'))).toBe('Pb no such line');
  });
});
