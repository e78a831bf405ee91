// Source: X-Ray Data Booklet, LBNL/PUB-490 Rev. 3 (2009), Table 1-1: electron binding energies, K to M5, Z = 1 to 92.
import { describe, expect, it } from 'vitest';
import { massAttenuation } from '../../packages/core/src/atomic/attenuation.ts';
import { edgeEv, SUBSHELLS } from '../../packages/core/src/atomic/shells.ts';
import { readTable } from './fixtures/read-table.ts';

const printed = readTable('xray-data-booklet-1-1.csv').flatMap((row) =>
  SUBSHELLS.flatMap((name, s) =>
    row[name] === '' ? [] : [{ z: Number(row['z']), s, name: `${row['symbol']} ${name}`, ev: Number(row[name]) }],
  ),
);

describe('X-Ray Data Booklet, Table 1-1', () => {
  it('gives our edges', () => {
    expect(printed.length).toBeGreaterThan(600);
    const off = printed.filter(({ z, s, ev }) => !(Math.abs(edgeEv(z, s) - ev) <= 1e-4 * ev));
    expect(off.map(({ name }) => name)).toEqual([]);
  });

  it('stands where attenuation jumps: K edges and L3 edges, 150 eV to 45 keV', () => {
    const jumps = printed.filter(({ name, ev }) => / (K|L3)$/.test(name) && ev > 150 && ev < 45_000);
    const flat = jumps.filter(({ z, ev }) => !(massAttenuation(z, ev + 0.5) > 1.3 * massAttenuation(z, ev - 0.5)));
    expect(jumps.length).toBeGreaterThan(100);
    expect(flat.map(({ name }) => name)).toEqual([]);
  });
});
