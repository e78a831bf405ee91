import type { Measured } from '@limner/core';

const MINUS = '\u2212';
const THIN = '\u202f';

/** Decimals that a standard uncertainty bears: it is given with two digits when it begins with 1, else with one. */
function decimalsBorne(sigma: number): number {
  const exponent = Math.floor(Math.log10(sigma));
  const leading = sigma / 10 ** exponent;
  return (leading < 1.95 ? 1 : 0) - exponent;
}

/** A number to so many decimals (negative: rounded to tens, hundreds, ...), thousands set apart, with a true minus sign. */
export function fixed(value: number, decimals: number): string {
  const step = 10 ** -decimals;
  const rounded = decimals < 0 ? Math.round(value / step) * step : value;
  const text = Math.abs(rounded).toFixed(Math.max(0, decimals));
  const [whole = '', fraction] = text.split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole;
  const sign = rounded < 0 && Number(text) !== 0 ? MINUS : '';
  return sign + grouped + (fraction === undefined ? '' : `.${fraction}`);
}

/** `1 230 ± 40`: never more digits than the uncertainty bears. */
export function measured({ value, sigma }: Measured, scale = 1): string {
  if (!(sigma > 0) || !Number.isFinite(sigma)) return significant(value * scale, 3);
  const decimals = decimalsBorne(sigma * scale);
  return `${fixed(value * scale, decimals)} ± ${fixed(sigma * scale, decimals)}`;
}

/** A value without an uncertainty of its own, to so many significant digits. */
export function significant(value: number, digits: number): string {
  if (value === 0 || !Number.isFinite(value)) return fixed(value, 0);
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  return fixed(value, digits - 1 - exponent);
}

/** Counts without an uncertainty of their own: the digits that the square root of the number bears. */
export function counts(value: number): string {
  const sigma = Math.sqrt(Math.max(1, Math.abs(value)));
  return fixed(value, Math.min(0, decimalsBorne(sigma)));
}

export const percent = (fraction: number): string => `${significant(100 * fraction, 2)}${THIN}%`;

export const keV = (energyEv: number, decimals = 3): string => `${fixed(energyEv / 1000, decimals)} keV`;

/** A line by its IUPAC name, the Siegbahn name beside it where one exists. */
export const lineName = ({ line, siegbahn }: { line: string; siegbahn: string | null }): string =>
  siegbahn ? `${dashed(line)} (${siegbahn})` : dashed(line);

/** `L3-M5` with a dash that does not break. */
export const dashed = (line: string): string => line.replaceAll('-', '\u2013');

/** `lead, tin and oxygen` */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** A span of use: `about 1300 to 1750`, `before 2500 BCE onwards`. */
export function years(earliest: number | null, latest: number | null): string {
  const year = (n: number) => (n < 0 ? `${-n} BCE` : String(n));
  if (earliest === null && latest === null) return '';
  if (latest === null) return `in use from about ${year(earliest!)}`;
  if (earliest === null) return `in use until about ${year(latest)}`;
  return `in use from about ${year(earliest)} to ${year(latest)}`;
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
