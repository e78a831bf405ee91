import { describe, expect, it } from 'vitest';
import { fixed, keV, listed, measured, percent, probabilityText, significant } from './numerals.ts';

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
