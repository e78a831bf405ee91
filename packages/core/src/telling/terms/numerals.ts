// Blanks inside a number, and between it and its unit, are no-break spaces; plain text turns them into blanks once its lines are made.

import type { Measured } from '../../identify/finding.ts';

const NB = '\u00a0';

/** A number to so many decimals (negative: rounded to tens, hundreds, ...), thousands set apart by blanks: '82 200', '-0.35'. */
export function fixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return 'unknown';
  const [whole, fraction] = digitsOf(Math.abs(value), decimals).split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, NB) : whole;
  const digits = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  return value < 0 && /[1-9]/.test(digits) ? `-${digits}` : digits;
}

/** From here on `toFixed` writes an exponent. */
const LARGE = 1e21;
/** Most decimals of `toFixed`. */
const MOST_DECIMALS = 100;

/** The double nearest to a whole power of ten, on every engine. */
const tenTo = (exponent: number): number => Number(`1e${exponent}`);

/** Digits of a value that is not negative, never with an exponent. */
function digitsOf(value: number, decimals: number): string {
  if (value >= LARGE) return BigInt(value).toString();
  if (decimals > 0) return value.toFixed(Math.min(decimals, MOST_DECIMALS));
  const step = tenTo(-decimals);
  const rounded = Math.round(value / step) * step;
  return Number.isFinite(rounded) && rounded < LARGE ? rounded.toFixed(0) : value.toFixed(0);
}

/** Value and standard uncertainty as '82 200 ± 600': two digits of the uncertainty when it begins with 1, else one. */
export function measured({ value, sigma }: Measured, scale = 1): string {
  if (!(sigma > 0) || !Number.isFinite(sigma)) return significant(value * scale, 3);
  const decimals = decimalsBorne(sigma * scale);
  return `${fixed(value * scale, decimals)}${NB}±${NB}${fixed(sigma * scale, decimals)}`;
}

/** Decimals that a standard uncertainty bears. */
function decimalsBorne(sigma: number): number {
  const exponent = Number(sigma.toExponential().split('e')[1]);
  return (sigma / tenTo(exponent) < 1.95 ? 1 : 0) - exponent;
}

/** A value without an uncertainty of its own, to so many significant digits. */
export function significant(value: number, digits: number): string {
  if (value === 0 || !Number.isFinite(value)) return fixed(value, 0);
  // Rounding may carry: 0.0999 to one digit is 0.1.
  const [, exponent] = Math.abs(value)
    .toExponential(digits - 1)
    .split('e');
  return fixed(value, digits - 1 - Number(exponent));
}

/** At most so many significant digits, without zeros behind the point: '20', '8.1'. */
export function trimmed(value: number, digits: number): string {
  const text = significant(value, digits);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Counts without an uncertainty of their own: the digits that the square root of the number bears. */
export function counts(value: number): string {
  return fixed(value, Math.min(0, decimalsBorne(Math.sqrt(Math.max(1, Math.abs(value))))));
}

/** Never 0 % or 100 %: no spectrum says that. */
export function probabilityText(p: number): string {
  if (p > 0.9995) return `>${NB}99.9${NB}%`;
  if (p < 0.0005) return `<${NB}0.1${NB}%`;
  return `${fixed(100 * p, p > 0.99 || p < 0.01 ? 1 : 0)}${NB}%`;
}

/** A fraction as a percentage with two digits: 0.0123 gives '1.2 %', with a no-break space. */
export const percent = (fraction: number): string => `${significant(100 * fraction, 2)}${NB}%`;

/** '+3', '-12', '0' */
export const signed = (value: number, decimals = 0): string => {
  const text = fixed(value, decimals);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
};

/** An energy in keV to the electronvolt: '2.345 keV'. */
export const keV = (energyEv: number): string => `${fixed(energyEv / 1000, 3)}${NB}keV`;

/** 'lead, tin and oxygen' */
export function listed(words: readonly string[], last = 'and'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words[words.length - 1]}`;
}

/** A number of things in words up to ten: 'five', '12'. */
export function numberWord(count: number): string {
  const words = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];
  return words[count] ?? fixed(count, 0);
}

/** '1 pair', '3 pairs' */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${fixed(count, 0)}${NB}${count === 1 ? one : many}`;

/** Words listed up to a limit, the others counted: 'chalk, gypsum and 3 more'. */
export function listedUpTo(most: number, words: readonly string[]): string {
  const more = words.length - most;
  return listed(more > 0 ? [...words.slice(0, most), `${numberWord(more)}${NB}more`] : words);
}

/** '1704', '400 BCE'. */
export const yearText = (year: number): string => (year < 0 ? `${fixed(-year, 0)}${NB}BCE` : String(year));

/** The text with its first letter as a capital. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
