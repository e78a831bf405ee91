// Odd but legal spectra, each read as a file would be: no reading may fall over, and what it tells must hold together.
// LIMNER_ODD=1000:5000 reads seeds 1000 to 5999 (`npm run statistics` does) and prints what became of them and the dearest in processor time, in
// grains of the demo; LIMNER_ODD_ROWS=FILE appends a line for each as it is read, LIMNER_ODD_CHANNELS=128 gives none more channels. Nothing is kept
// of a reading, whatever became of it: a grain reads the same before and after, and the odd ones the same in another order.
import { appendFileSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { identify, readSpectrum } from '@limner/core';
import { type OddReading, oddReading } from './odd-reading.ts';
import { oddSpectrum } from './odd-spectrum.ts';

const [FROM, NUMBER] = (process.env['LIMNER_ODD'] ?? '0:4').split(':').map(Number);
const WHOLE = process.env['LIMNER_ODD'] !== undefined;
const ROWS = process.env['LIMNER_ODD_ROWS'];
/** None has more channels. */
const MOST_CHANNELS = Number(process.env['LIMNER_ODD_CHANNELS'] ?? (WHOLE ? Infinity : 256));
/** One of so many is read a second time. */
const AGAIN = WHOLE ? 10 : 2;

const GRAIN = readFileSync(new URL('../../data/demo/P1-L2-g01.msa', import.meta.url));
const readGrain = (): string => JSON.stringify(identify(readSpectrum(GRAIN, { name: 'grain' })));

interface Row extends OddReading {
  readonly seed: number;
  readonly told: string;
  /** Processor time. */
  readonly ms: number;
}

function rowOf(seed: number): Row {
  const { text, told } = oddSpectrum(seed, MOST_CHANNELS);
  const before = process.cpuUsage();
  const reading = oddReading(seed, text);
  const { user, system } = process.cpuUsage(before);
  const row = { seed, ms: Math.round((user + system) / 1000), ...reading, told };
  if (ROWS !== undefined) appendFileSync(ROWS, `${JSON.stringify(row)}\n`);
  return row;
}

it(`${NUMBER} odd spectra from seed ${FROM} are read, or refused with a clear error, and read alike in any order`, () => {
  const before = readGrain();
  const rows = Array.from({ length: NUMBER }, (_, i) => rowOf(FROM + i));
  if (WHOLE) report(rows);
  expect(rows.filter(({ fault }) => fault !== null)).toEqual([]);
  const again = rows.filter((_, i) => i % AGAIN === 0).reverse();
  const digests = again.map(({ seed }) => oddReading(seed, oddSpectrum(seed, MOST_CHANNELS).text).digest);
  expect(digests).toEqual(again.map(({ digest }) => digest));
  expect(readGrain() === before).toBe(true);
});

it('an axis that begins above 0.4 keV is tried elsewhere like any other', () => {
  for (const seed of [24, 46]) expect(oddReading(seed, oddSpectrum(seed).text).fault, `seed ${seed}`).toBeNull();
});

function report(rows: readonly Row[]): void {
  const cost = (): number => {
    const before = process.cpuUsage();
    readGrain();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  };
  const unit = Math.min(cost(), cost(), cost());
  const became = new Map<string, number>();
  for (const row of rows) became.set(row.became, (became.get(row.became) ?? 0) + 1);
  const dearest = [...rows].sort((a, b) => b.ms - a.ms).slice(0, 10);
  process.stdout.write(
    [
      [...became].map(([what, number]) => `${what} ${number}`).join(', '),
      `a grain of the demo takes ${unit.toFixed(0)} ms of processor time; the dearest, in grains:`,
      ...dearest.map(({ ms, seed, told }) => `  ${(ms / unit).toFixed(1)}  ${seed} ${told}`),
      '',
    ].join('\n'),
  );
}
