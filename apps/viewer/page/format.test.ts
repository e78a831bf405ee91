import { describe, expect, it } from 'vitest';
import { counts, fixed, listed, measured, significant, years } from './format.ts';

const plain = (text: string) => text.replaceAll('\u202f', ' ').replaceAll('\u2212', '-');

describe('numbers carry no more digits than their uncertainty', () => {
  it.each([
    [{ value: 104_312.4, sigma: 1234 }, '104 300 ± 1200'],
    [{ value: 104_312.4, sigma: 340 }, '104 300 ± 300'],
    [{ value: 0.61234, sigma: 0.0181 }, '0.612 ± 0.018'],
    [{ value: 12.34, sigma: 0.5 }, '12.3 ± 0.5'],
    [{ value: -3.2, sigma: 12 }, '-3 ± 12'],
    [{ value: -0.2, sigma: 12 }, '0 ± 12'],
    [{ value: 5.04, sigma: 0.0999 }, '5.04 ± 0.10'],
    [{ value: 7, sigma: 0 }, '7.00'],
  ])('%o as %s', (value, text) => expect(plain(measured(value))).toBe(text));

  it('scales value and sigma together', () => expect(measured({ value: 0.254, sigma: 0.012 }, 100)).toBe('25.4 ± 1.2'));
  it('gives bare counts the digits their square root bears', () => {
    expect(plain(counts(123_456))).toBe('123 500');
    expect(counts(17)).toBe('17');
    expect(counts(0.3)).toBe('0');
  });
  it('keeps a set number of significant digits', () => {
    expect(significant(0.012345, 2)).toBe('0.012');
    expect(plain(significant(123_456, 2))).toBe('120 000');
    expect(significant(0, 3)).toBe('0');
  });
  it('rounds to tens with a negative number of decimals', () => expect(fixed(1234, -2)).toBe('1200'));
});

it('lists words and years as one reads them', () => {
  expect(listed(['lead', 'tin', 'oxygen'])).toBe('lead, tin and oxygen');
  expect(listed(['lead'])).toBe('lead');
  expect(years(-2500, null)).toBe('in use from about 2500 BCE');
  expect(years(1300, 1750)).toBe('in use from about 1300 to 1750');
  expect(years(null, null)).toBe('');
});
