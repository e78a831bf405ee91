// Source: X-Ray Data Booklet, LBNL/PUB-490 Rev. 3 (2009), Table 1-2 (after J.A. Bearden, Rev. Mod. Phys. 39 (1967) 78).
// Whole table: 617 energies of nine lines, Z = 3 to 95. Our energies come first from NIST SRD 128 and only then from here.
import { describe, expect, it } from 'vitest';
import { linesOf } from '../../packages/core/src/atomic/lines.ts';
import { readTable } from './fixtures/read-table.ts';

const LINES = ['K-L3', 'K-L2', 'K-M3', 'L3-M5', 'L3-M4', 'L2-M4', 'L3-N5', 'L2-N4', 'M5-N7'];
const table = readTable('xray-data-booklet-1-2.csv');
const printed = table.flatMap((row) =>
  LINES.filter((line) => row[line] !== '').map((line) => ({
    z: Number(row['z']),
    name: `${row['symbol']} ${line}`,
    line,
    ev: Number(row[line]),
  })),
);

describe('X-Ray Data Booklet, Table 1-2', () => {
  it('has every printed line', () => {
    expect(printed).toHaveLength(617);
    const missing = printed.filter(({ z, line }) => !linesOf(z).some(({ iupac }) => iupac === line));
    expect(missing.map(({ name }) => name)).toEqual([]);
  });

  // The widest gap is U Kα2 (NIST SRD 128 measures 14 eV below the print), still 0.015 % of its energy.
  it('agrees within 2 eV or 0.1 %, no exception', () => {
    const off = printed.filter(({ z, line, ev }) => {
      const ours = linesOf(z).find(({ iupac }) => iupac === line)?.energyEv ?? NaN;
      return !(Math.abs(ours - ev) <= Math.max(2, 0.001 * ev));
    });
    expect(off.map(({ name }) => name)).toEqual([]);
  });
});
