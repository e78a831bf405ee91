// Width of the ionised volume against our own Monte Carlo calculation (fixtures/monte-carlo.ts), which is no publication.
import { expect, it } from 'vitest';
import { massFractionsOf } from '../../packages/core/src/atomic/composition.ts';
import { LINE_TABLE } from '../../packages/core/src/atomic/lines.ts';
import { ionisedWidthUm } from '../../packages/core/src/emission/body/recorded-volume.ts';
import { readTable } from './fixtures/read-table.ts';

it.each([
  ['0.5', 0.15, 0.33],
  ['0.8', 0.11, 0.2],
  ['0.95', 0.095, 0.2],
])(
  'the circle that holds %s of the ionisations, C to Au, 10 and 20 kV: rms %d, largest %d',
  (part, typical, largest) => {
    const off = readTable('monte-carlo-spread.csv')
      .filter((row) => row['part'] === part)
      .map((row) => {
        const [z, s] = [Number(row['z']), Number(row['subshell'])];
        const line = LINE_TABLE.z.findIndex((other, i) => other === z && LINE_TABLE.subshell[i] === s);
        const material = { composition: massFractionsOf(row['formula']), densityGPerCm3: 1 };
        const width = ionisedWidthUm(material, 1000 * Number(row['beam_kev']), line, Number(part));
        return (width * 1e-4) / (2 * Number(row['distance_g_cm2'])) - 1;
      });
    expect(off).toHaveLength(20);
    expect(Math.sqrt(off.reduce((a, b) => a + b * b, 0) / off.length)).toBeLessThan(typical);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(largest);
  },
);
