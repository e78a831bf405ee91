// Blanks inside a number, and between it and its unit, are no-break spaces; plain text turns them into blanks once its lines are made.

import type { Measured } from '../identify/finding.ts';

const NB = '\u00a0';

/** A number to so many decimals (negative: rounded to tens, hundreds, ...), thousands set apart by blanks: '82 200', '-0.35'. */
export function fixed(value: number, decimals: number): string {
  const step = 10 ** Math.max(0, -decimals);
  const text = Math.abs(Math.round(value / step) * step).toFixed(0);
  const [whole, fraction] = (decimals > 0 ? Math.abs(value).toFixed(decimals) : text).split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, NB) : whole;
  const digits = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  return value < 0 && /[1-9]/.test(digits) ? `-${digits}` : digits;
}

/** Value and standard uncertainty as '82 200 ± 600': two digits of the uncertainty when it begins with 1, else one. */
export function measured({ value, sigma }: Measured, scale = 1): string {
  if (!(sigma > 0) || !Number.isFinite(sigma)) return significant(value * scale, 3);
  const decimals = decimalsBorne(sigma * scale);
  return `${fixed(value * scale, decimals)}${NB}±${NB}${fixed(sigma * scale, decimals)}`;
}

/** Decimals that a standard uncertainty bears. */
function decimalsBorne(sigma: number): number {
  const exponent = Math.floor(Math.log10(sigma));
  return (sigma / 10 ** exponent < 1.95 ? 1 : 0) - exponent;
}

/** A value without an uncertainty of its own, to so many significant digits. */
export function significant(value: number, digits: number): string {
  if (value === 0 || !Number.isFinite(value)) return String(value);
  return fixed(value, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
}

/** Never 0 % or 100 %: no spectrum says that. */
export function probabilityText(p: number): string {
  if (p > 0.9995) return `>${NB}99.9${NB}%`;
  if (p < 0.0005) return `<${NB}0.1${NB}%`;
  return `${fixed(100 * p, p > 0.99 || p < 0.01 ? 1 : 0)}${NB}%`;
}

export const percent = (fraction: number): string => `${significant(100 * fraction, 2)}${NB}%`;

/** An energy in keV to the electronvolt: '2.345 keV'. */
export const keV = (energyEv: number): string => `${fixed(energyEv / 1000, 3)}${NB}keV`;

/** 'lead, tin and oxygen' */
export function listed(words: readonly string[], last = 'and'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words[words.length - 1]}`;
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
