import { describe, expect, it } from 'vitest';
import { finding } from '../../../../../tests/fixtures/record.ts';
import type { Rival } from '../../identify/finding.ts';
import { MATERIALS } from '../../pigments/knowledge.ts';
import { grainName, lineOf, within } from '../terms/names.ts';
import { wordedClaim, wordedWithout } from './claim.ts';
import { contradictionText } from './contradiction.ts';
import { findingReason } from './finding-reason.ts';
import { wordedWarning, type WarningData } from './warnings.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');
const rival = (name: string, deltaC: number): Rival => ({ kind: 'element', name, deltaC, settling: [] });

describe('the reason of a verdict', () => {
  const told = (one: Rival | null): string => plain(findingReason({ kind: 'required', rise: 76_123, rival: one }));

  it('says what leaving it out costs, and what the best rival does', () => {
    expect(told(null)).toBe('Leaving it out raises chi-square by 76 000; nothing else takes its place.');
    expect(told(rival('Tl+S', 812))).toBe(
      'Leaving it out raises chi-square by 76 000; the best rival, Tl + S, raises it by 810.',
    );
  });

  it('counts a rival of many elements', () => {
    expect(told(rival('B+N+Al+S+K', 60))).toBe(
      'Leaving it out raises chi-square by 76 000. No single rival; five elements together still fit worse.',
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
  it('that are contradicted say from what amount and at which line it would have been seen', () => {
    const line = { line: 'K-L3', siegbahn: 'Kα1', energyEv: 3692, counts: 0 };
    const unseen = finding('Ca', 20, 0, { verdict: 'not-seen', lines: [line], reason: 'No counts call for it.' });
    expect(plain(wordedClaim({ symbol: 'Ca', answer: 'contradicted', finding: unseen }).reason)).toBe(
      'Ca would have been seen above a mass fraction of about 0.24 %, by K-L3 (Kα1) at 3.692 keV ' +
        '(at least 130 counts in all its lines). No counts call for it.',
    );
  });

  it('without elements say what takes their place', () => {
    expect(plain(wordedWithout({ symbols: ['Hg', 'S'], instead: ['Tl'], deltaC: 1234 }).reason)).toBe(
      'Without Hg and S, Tl takes the place; penalised chi-square rises by 1200.',
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

it('a contradicted label names element and amounts', () => {
  expect(plain(contradictionText({ kind: 'missing', z: 20, expected: 0.4, limit: 0.002 }))).toBe(
    'Calcium is not seen: it should make up 40 %, and 0.20 % would show.',
  );
  expect(plain(contradictionText({ kind: 'amount', z: 20, times: 4.04 }))).toBe(
    'There is 4.0 times as much calcium, against the rest, as the label says.',
  );
});

describe('names', () => {
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
    expect(grainName(['Vermilion', 'Lead white', 'Prussian blue'])).toBe('Vermilion with lead white and Prussian blue');
  });

  it('of lines are IUPAC with Siegbahn beside it', () => {
    expect(plain(lineOf('Pb', 'M5-N7'))).toBe('Pb M5-N7 (Mα1)');
    expect(plain(lineOf('Pb', 'no such line'))).toBe('Pb no such line');
  });
});
