// Odd but legal spectra, seeded, each read as a file would be: no reading may fall over, lie about its sums, or take for ever.
//   npm run build && node tests/robustness/odd-spectra.mjs --from 0 --number 200 [--core CHECKOUT] [--json FILE]
// Prints what fell over and the dearest readings in processor time, relative to a grain of the demo. Exit code 1 when anything fell over.
import { readFileSync } from 'node:fs';
import { commandLine, saveRows, timed } from '../statistics/verdicts/core.mjs';
import { oddSpectrum } from './odd-spectrum.mjs';

/** Errors that tell a person what to do; any other is a fault of ours. */
const CLEAR = ['EmsaError', 'TooFewCountsError', 'UnexplainableError'];

const { values } = await commandLine({
  from: { type: 'string', default: '0' },
  number: { type: 'string', default: '200' },
  slow: { type: 'string', default: '10' },
});
const { readSpectrum, identify } = values.core;

const demo = new URL('../../data/demo/', import.meta.url).pathname;
const grain = readFileSync(`${demo}P1-L2-g01.msa`);
const read = (bytes, name) => identify(readSpectrum(bytes, { name }));
read(grain, 'warm');
const unit = Math.min(...[1, 2, 3].map(() => timed(() => read(grain, 'demo')).ms));

const rows = [];
const from = Number(values.from);
for (let seed = from; seed < from + Number(values.number); seed++) {
  const { text, told } = oddSpectrum(seed);
  const row = { seed, told, fault: null, refused: null, ratio: 0 };
  const { record, ms } = timed(() => {
    try {
      return read(new TextEncoder().encode(text), `odd-${seed}`);
    } catch (error) {
      if (CLEAR.includes(error.name) && error.message.length > 0) row.refused = `${error.name}: ${error.message}`;
      else row.fault = `${error.name}: ${error.message} ${error.stack.split('\n')[1]?.trim()}`;
    }
  });
  row.ratio = ms / unit;
  if (record) row.fault = unsound(record);
  rows.push(row);
  if (row.fault) console.log(`${seed} ${told}: ${row.fault}`);
}
rows.sort((a, b) => b.ratio - a.ratio);
const faults = rows.filter(({ fault }) => fault !== null).length;
const refused = rows.filter((row) => row.refused !== null).length;
console.log(`${rows.length} odd spectra from seed ${from}: ${faults} fell over, ${refused} refused with a clear error`);
console.log(`a grain of the demo takes ${unit.toFixed(0)} ms of processor time; the dearest, in grains:`);
for (const { ratio, seed, told } of rows.slice(0, Number(values.slow)))
  console.log(`  ${ratio.toFixed(1)}  ${seed} ${told}`);
saveRows(values.json, rows);
process.exitCode = faults > 0 ? 1 : 0;

/** What is wrong with a record; null for nothing. */
function unsound({ ledger, conditions, elements }) {
  const total = ledger.reduce((sum, { counts }) => sum + counts, 0);
  if (!(Math.abs(total / conditions.totalCounts - 1) < 1e-6)) return `the ledger adds up to ${total}`;
  for (const { symbol, probability, counts, massFraction } of elements) {
    if (!(probability >= 0 && probability <= 1)) return `${symbol} has a probability of ${probability}`;
    if (!Number.isFinite(counts.value) || !Number.isFinite(counts.sigma))
      return `${symbol} has counts of ${counts.value}`;
    if (massFraction && !(massFraction.value <= 1 + 1e-9)) return `${symbol} has a content of ${massFraction.value}`;
  }
  return null;
}
