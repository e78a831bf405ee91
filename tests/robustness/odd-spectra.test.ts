// Odd but legal spectra, each read as a file would be: no reading may fall over, and what it tells must hold together.
// LIMNER_ODD=1000:5000 reads seeds 1000 to 5999 (`npm run statistics` does), prints what fell over and the dearest in processor time,
// in grains of the demo. A grain reads the same before and after: nothing is kept of a reading, whatever became of it.
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { identify, type LimnerRecord, readSpectrum } from '@limner/core';
import { oddSpectrum } from './odd-spectrum.ts';

const [FROM, NUMBER] = (process.env['LIMNER_ODD'] ?? '0:4').split(':').map(Number);
const WHOLE = process.env['LIMNER_ODD'] !== undefined;
/** In `npm test` none has more channels. */
const MOST_CHANNELS = WHOLE ? Infinity : 256;

const GRAIN = readFileSync(new URL('../../data/demo/P1-L2-g01.msa', import.meta.url));

/** Errors that tell a person what to do; any other is a fault of ours. */
const CLEAR = ['EmsaError', 'TooFewCountsError', 'UnexplainableError'];

const read = (bytes: Uint8Array, name: string): LimnerRecord => identify(readSpectrum(bytes, { name }));

/** What is wrong with a reading; null for nothing. */
function faultOf(seed: number, text: string): string | null {
  try {
    return unsound(read(new TextEncoder().encode(text), `odd-${seed}`));
  } catch (error) {
    const { name, message } = error as Error;
    const clear = CLEAR.includes(name) && (name === 'EmsaError' || message.startsWith(`odd-${seed}`));
    return clear && !message.includes('the reading failed') ? null : `${name}: ${message}`;
  }
}

function unsound({ ledger, conditions, elements, warnings }: LimnerRecord): string | null {
  const total = ledger.reduce((sum, { counts }) => sum + counts, 0);
  if (!(Math.abs(total / conditions.totalCounts - 1) < 1e-6)) return `the ledger adds up to ${total}`;
  const unfinished = warnings.some(({ code }) => code === 'unfinished');
  for (const { symbol, verdict, probability, counts, massFraction } of elements) {
    if (!(probability >= 0 && probability <= 1)) return `${symbol} has a probability of ${probability}`;
    if (!Number.isFinite(counts.value) || !Number.isFinite(counts.sigma))
      return `${symbol} has counts of ${counts.value}`;
    if (massFraction && !(massFraction.value <= 1 + 1e-9)) return `${symbol} has a content of ${massFraction.value}`;
    if (unfinished && verdict === 'present') return `${symbol} is present in a reading that was not finished`;
  }
  return null;
}

const processorMs = (work: () => void): number => {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
};

it(`${NUMBER} odd spectra from seed ${FROM} are read, or refused with a clear error`, () => {
  const faults: string[] = [];
  const costs: { readonly ms: number; readonly told: string }[] = [];
  const before = JSON.stringify(read(GRAIN, 'grain'));
  for (let seed = FROM; seed < FROM + NUMBER; seed++) {
    const { text, told } = oddSpectrum(seed, MOST_CHANNELS);
    const ms = processorMs(() => {
      const fault = faultOf(seed, text);
      if (fault !== null) faults.push(`${seed} ${told}: ${fault}`);
    });
    costs.push({ ms, told: `${seed} ${told}` });
  }
  if (WHOLE) report(costs);
  expect(faults).toEqual([]);
  expect(JSON.stringify(read(GRAIN, 'grain')) === before).toBe(true);
});

it('an axis that begins above 0.4 keV is tried elsewhere like any other', () => {
  for (const seed of [24, 46]) expect(faultOf(seed, oddSpectrum(seed).text), `seed ${seed}`).toBeNull();
});

function report(costs: { readonly ms: number; readonly told: string }[]): void {
  const unit = Math.min(...[1, 2, 3].map(() => processorMs(() => read(GRAIN, 'grain'))));
  costs.sort((a, b) => b.ms - a.ms);
  const dearest = costs.slice(0, 10).map(({ ms, told }) => `  ${(ms / unit).toFixed(1)}  ${told}`);
  process.stdout.write(
    [`a grain of the demo takes ${unit.toFixed(0)} ms of processor time; the dearest, in grains:`, ...dearest, ''].join(
      '\n',
    ),
  );
}
