// Real measurements of others on known samples: every documented element is `present`, nothing else is.
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { identify, readSpectrum, type LimnerRecord } from '@limner/core';
import { REAL_ABSENT, realFolder } from './real-folder.ts';

interface Truth {
  readonly strong: readonly string[];
  readonly possible: readonly string[];
  readonly stats: { readonly kV: number | null; readonly eV: number; readonly zero: number; readonly units: string };
}

/** `present` beyond the documentation, argued one by one. Anything not named here fails. */
const ARGUED: Readonly<Record<string, readonly string[]>> = {
  // A plain peak at 1.49 keV, 13 standard deviations: the holder or a contact, by its shape not copper.
  'teaching-lab-gasb/SEM_known_Cu.msa': ['Al'],
};

const folders = [realFolder('real'), realFolder('real-hard')].filter((folder) => folder !== null);
const truths: [string, Truth, string][] = folders.flatMap((folder) =>
  Object.entries(JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as Record<string, Truth>).map(
    ([name, truth]): [string, Truth, string] => [name, truth, folder],
  ),
);
if (truths.length === 0)
  truths.push([
    'the folder of real measurements',
    { strong: [], possible: [], stats: { kV: 0, eV: 0, zero: 0, units: '' } },
    '',
  ]);

function read(folder: string, name: string, { kV, eV, zero, units }: Truth['stats']): LimnerRecord {
  const axis = units.startsWith('chan') ? { axis: { gainEv: eV, offsetEv: zero * 1000 } } : {};
  const spectrum = readSpectrum(readFileSync(join(folder, name)), { name: basename(name), ...axis });
  return identify(spectrum, spectrum.beamKev === null && kV !== null ? { beamKev: kV } : {});
}

describe(folders.length === 0 ? REAL_ABSENT : 'real measurements', () => {
  it.skipIf(folders.length === 0).each(truths)(
    '%s: documented elements are present, others are not',
    (name, truth, folder) => {
      const record = read(folder, name, truth.stats);
      const present = record.elements.filter(({ verdict }) => verdict === 'present').map(({ symbol }) => symbol);
      expect(truth.strong.filter((symbol) => !present.includes(symbol))).toEqual([]);
      const allowed = [...truth.strong, ...truth.possible, ...(ARGUED[name] ?? [])];
      expect(present.filter((symbol) => !allowed.includes(symbol))).toEqual([]);
      const total = record.ledger.reduce((sum, { counts }) => sum + counts, 0);
      expect(Math.abs(total - record.conditions.totalCounts)).toBeLessThan(1e-6 * record.conditions.totalCounts);
    },
  );
});
