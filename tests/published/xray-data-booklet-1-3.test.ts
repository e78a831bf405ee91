// Source: X-Ray Data Booklet (LBNL/PUB-490 Rev. 3, 2009), Table 1-3: relative intensities in whole numbers, strongest line of the
// shell 100. Lines of one subshell only, as others need yields. Its Kβ is not used: the same number stands for Kβ1 alone
// and for Kβ1,3 in different rows.
import { describe, expect, it } from 'vitest';
import { linesOf } from '../../packages/core/src/atomic/lines.ts';
import { readTable } from './fixtures/read-table.ts';

const ROWS = readTable('xray-data-booklet-1-3.csv').map((row) => ({
  z: Number(row['z']),
  iupac: row['iupac'],
  relative: Number(row['relative']),
}));

/** Sum of the named lines, the strongest of the subshell 100. */
function ours(z: number, upper: RegExp): number {
  const lines = linesOf(z);
  const of = (pattern: RegExp): number =>
    lines.filter(({ iupac }) => pattern.test(iupac)).reduce((sum, { relative }) => sum + relative, 0);
  return (100 * of(upper)) / of(upper.source.startsWith('^K') ? /^K-L3$/ : /^L3-M5$/);
}

const off = (iupac: string, upper: RegExp, from: number): number[] =>
  ROWS.filter((row) => row.iupac === iupac && row.z >= from).map(({ z, relative }) => ours(z, upper) - relative);

describe('X-Ray Data Booklet, Table 1-3', () => {
  it('Kα2 / Kα1 within 1.5 of 100, Z from 13', () => {
    const found = off('K-L2', /^K-L2$/, 13);
    expect(found.length).toBeGreaterThan(60);
    for (const value of found) expect(Math.abs(value)).toBeLessThan(1.5);
  });

  it('Lα2 / Lα1 within 1 of 100, Z from 37', () => {
    const found = off('L3-M4', /^L3-M4$/, 37);
    expect(found.length).toBeGreaterThan(40);
    for (const value of found) expect(Math.abs(value)).toBeLessThan(1);
  });

  // 6 of 100: the booklet's column is smooth, J.H. Scofield's rates, which ours are, lie up to a quarter apart from it.
  it('Lβ2,15 / Lα1 within 6 of 100, Z from 45', () => {
    const found = off('L3-N4/5', /^L3-N[45]$/, 45);
    expect(found.length).toBeGreaterThan(15);
    for (const value of found) expect(Math.abs(value)).toBeLessThan(6);
  });
});
