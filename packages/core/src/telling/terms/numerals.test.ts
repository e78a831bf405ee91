import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  counts,
  fixed,
  keV,
  listed,
  listedUpTo,
  measured,
  numberWord,
  percent,
  probabilityText,
  signed,
  significant,
  trimmed,
  yearText,
} from './numerals.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('measured values', () => {
  // Two digits of an uncertainty that begins with 1, else one: common practice, no source.
  it.each([
    [82_213, 574, '82 200 ± 600'],
    [82_213, 149, '82 210 ± 150'],
    [0.612, 0.041, '0.61 ± 0.04'],
    [0.612, 0.0141, '0.612 ± 0.014'],
    [-3.24, 0.6, '-3.2 ± 0.6'],
    [12, 0.97, '12.0 ± 1.0'],
    [3, 41, '0 ± 40'],
  ])('%f with sigma %f reads %s', (value, sigma, text) => {
    expect(plain(measured({ value, sigma }))).toBe(text);
  });

  it('have no made-up uncertainty when there is none', () => {
    expect(plain(measured({ value: 1234.56, sigma: 0 }))).toBe('1230');
  });

  it('are scaled together with their uncertainty', () => {
    expect(plain(measured({ value: 0.178, sigma: 0.012 }, 100))).toBe('17.8 ± 1.2');
  });
});

describe('numbers', () => {
  it('never read minus zero', () => {
    expect(fixed(-0.04, 1)).toBe('0.0');
    expect(fixed(-4, -1)).toBe('0');
  });

  it('set thousands apart from five digits on, not behind the point', () => {
    expect(plain(fixed(1234.567891, 6))).toBe('1234.567891');
    expect(plain(fixed(1234567.8, 1))).toBe('1 234 567.8');
  });

  it('keep so many significant digits', () => {
    expect(significant(0.002449, 2)).toBe('0.0024');
    expect(significant(0, 3)).toBe('0');
    expect(plain(percent(0.0024))).toBe('0.24 %');
    expect(plain(keV(10_551.5))).toBe('10.552 keV');
  });

  it('keep significant digits where rounding carries', () => {
    expect(significant(0.0999, 1)).toBe('0.1');
    expect(plain(significant(99_960, 3))).toBe('100 000');
  });

  it('drop zeros behind the point only', () => {
    expect([trimmed(20, 4), trimmed(8.1, 3), trimmed(1.799, 3), trimmed(1200, 3)]).toEqual([
      '20',
      '8.1',
      '1.8',
      '1200',
    ]);
  });

  it('give counts the digits that their square root bears, and a sign where it is asked for', () => {
    expect([counts(860), counts(20_900), counts(3)].map(plain)).toEqual(['860', '20 900', '3']);
    expect([signed(2.7), signed(-2.7), signed(0.2)]).toEqual(['+3', '-3', '0']);
  });

  const any = fc.oneof(fc.double({ noNaN: true }), fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer());
  const DIGITS = /^(unknown|-?\d{1,4}(\.\d+)?|-?\d{1,3}( \d{3})+(\.\d+)?)$/;

  it('never have an exponent, whatever the value', () => {
    fc.assert(
      fc.property(any, fc.integer({ min: -6, max: 12 }), fc.integer({ min: 1, max: 6 }), (value, decimals, digits) => {
        for (const text of [fixed(value, decimals), significant(value, digits), trimmed(value, digits), counts(value)])
          expect(plain(text)).toMatch(DIGITS);
      }),
      { seed: 7, numRuns: 2000 },
    );
  });

  it('never have one beside their uncertainty either', () => {
    fc.assert(
      fc.property(any, any, (value, sigma) => {
        const [number, ...rest] = plain(measured({ value, sigma: Math.abs(sigma) })).split(' ± ');
        for (const text of [number, ...rest]) expect(text).toMatch(DIGITS);
      }),
      { seed: 8, numRuns: 2000 },
    );
  });

  it('say what they stand for: within half a unit of the last digit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.integer({ min: -3, max: 6 }),
        (value, decimals) => {
          const read = Number(fixed(value, decimals).replaceAll('\u00a0', ''));
          expect(Math.abs(read - value)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals + 1e-9 * Math.abs(value));
        },
      ),
      { seed: 9 },
    );
  });

  it('never give a probability of 0 or 1', () => {
    expect([1, 0.9992, 0.5, 0.004, 0].map((p) => plain(probabilityText(p)))).toEqual([
      '> 99.9 %',
      '99.9 %',
      '50 %',
      '0.4 %',
      '< 0.1 %',
    ]);
  });
});

it('words are listed with commas and an "and"', () => {
  expect([listed([]), listed(['lead']), listed(['lead', 'tin']), listed(['lead', 'tin', 'oxygen'])]).toEqual([
    '',
    'lead',
    'lead and tin',
    'lead, tin and oxygen',
  ]);
});

it('many words are counted, small numbers are words, years BCE are said', () => {
  expect(plain(listedUpTo(2, ['chalk', 'gypsum', 'talc', 'quartz']))).toBe('chalk, gypsum and two more');
  expect([numberWord(5), numberWord(12)]).toEqual(['five', '12']);
  expect([yearText(1704), yearText(-20_000)].map(plain)).toEqual(['1704', '20 000 BCE']);
});
