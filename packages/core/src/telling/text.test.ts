import { describe, expect, it } from 'vitest';
import { finding, invented, pigment } from '../../../../tests/fixtures/record.ts';
import type { LimnerRecord } from '../record/record.ts';
import { readingText } from './text.ts';

const brief = readingText(invented());
const full = readingText(invented(), { length: 'full' });
const HOSTILE = 'x\u001b[2Jy';

/** A record with much in it and long words in every place that a file can fill. */
function crowded(): LimnerRecord {
  const long = 'averyverylongnamewithoutanyblank'.repeat(6);
  const symbols = ['Na', 'Mg', 'Al', 'Si', 'P', 'S', 'Cl', 'K', 'Ca', 'Ti', 'Fe', 'Cu', 'Zn', 'As'];
  return invented({
    source: { name: `${long}.msa`, sha256: 'a'.repeat(64), title: long },
    header: [{ key: 'COMMENT', unit: '', value: long }],
    elements: symbols.map((symbol, i) =>
      finding(symbol, 11 + i, 123_456 * (i + 1), {
        massFraction: { value: 1 / (i + 1), sigma: 0.003 },
        rivals: [{ kind: 'element', name: 'Ge+As+Tb', deltaC: 1e7, settling: [] }],
        lines: [{ line: 'M5-N6,7', siegbahn: 'Mα1,2', energyEv: 1712.3, counts: 9 }],
      }),
    ),
    pigments: Array.from({ length: 30 }, (_, i) =>
      pigment(`p${i}`, `Pigment ${i} ${long.slice(0, 40 * (i % 3))}`, { lookalikes: [`p${(i + 1) % 30}`] }),
    ),
    warnings: [{ code: 'poor-fit', text: `The file ${long} is odd.` }],
  });
}

describe('the default reading', () => {
  it('opens with the name and the answer, and ends with a line break', () => {
    expect(brief.split('\n').slice(0, 3)).toEqual([
      'grain-07.msa: Invented grain 7',
      '',
      expect.stringMatching(/^The counts require lead and tin\./),
    ]);
    expect(brief.endsWith('.\n')).toBe(true);
  });

  it('fits one screen, and holds nothing that the full one lacks but the hint', () => {
    expect(brief.split('\n').length).toBeLessThanOrEqual(41);
    const flat = (text: string): string => text.replace(/\s+/g, ' ');
    for (const word of ['antimony', 'Lead-tin yellow, type I', '61 ± 4', '5.412'])
      for (const text of [brief, full]) expect(flat(text)).toContain(word);
  });

  it('leaves limits, peaks, ratios and arguments to the full one', () => {
    for (const heading of ['Not seen', 'Ledger of all counts', 'Provenance', 'Ruled out: 1']) {
      expect(full).toContain(heading);
      expect(brief).not.toContain(heading);
    }
  });

  it('puts what lowers trust right below the answer, and leaves notes on the file to the full one', () => {
    const warned = invented({
      warnings: [
        { code: 'latin-1', text: 'Read as Latin-1.' },
        { code: 'poor-fit', text: 'The fit is poor.' },
      ],
    });
    const text = readingText(warned);
    expect(text).toMatch(/Warnings\n {2}- The fit is poor\.\n\nElements/);
    expect(text).not.toContain('Latin-1');
    expect(readingText(warned, { length: 'full' })).toMatch(/- The fit is poor\.\n {2}- Read as Latin-1\./);
  });
});

describe.each([60, 80, 100, 140])('at a width of %d', (width) => {
  it.each([
    ['usual', invented()],
    ['crowded', crowded()],
  ])('no line of a %s record is longer, in either length', (_, record) => {
    for (const length of ['brief', 'full'] as const) {
      for (const line of readingText(record, { width, length }).split('\n')) {
        expect(line.length, line).toBeLessThanOrEqual(width);
        expect(line).toBe(line.trimEnd());
      }
    }
  });

  it('prints printable characters alone and no exponent', () => {
    for (const line of readingText(crowded(), { width, length: 'full' }).split('\n')) {
      expect(line).toMatch(/^[\u0020-\u007eα-ωΑ-Ωℓ±°′]*$/);
      expect(line).not.toMatch(/\d(\.\d+)?e[+-]?\d/);
    }
  });
});

it('lets no file steer the terminal, wherever its text stands', () => {
  const hostile = invented({
    source: { name: `a\u0007b`, sha256: HOSTILE, title: HOSTILE },
    header: [{ key: HOSTILE, unit: HOSTILE, value: HOSTILE }],
    warnings: [{ code: 'x', text: HOSTILE }],
    pigments: [pigment('own', HOSTILE, { reason: HOSTILE, followUp: HOSTILE, formula: HOSTILE })],
  });
  for (const length of ['brief', 'full'] as const)
    // eslint-disable-next-line no-control-regex
    expect(readingText(hostile, { length })).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/);
});
