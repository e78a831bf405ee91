// Times a whole simulated spectrum (10 elements, 2,048 channels), with cold and with warm caches, against plain non-negative
// least squares of the same number of channels. Never part of `npm test`; nothing here is asserted.
// Usage: node tests/bench/simulate.mjs [--json]
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { Bench } from 'tinybench';
import { coat, DEFAULT_DETECTOR, layerOf, massFractionsOf, simulate } from '../../packages/core/dist/index.js';
import { nnls } from './nnls.mjs';
import { plainProblem } from './problem.mjs';
import { COMPOSITION, CONDITIONS } from './simulate-case.mjs';

const FRESH_RUNS = 9;

const bulk = { kind: 'bulk', composition: COMPOSITION };
const thick = { composition: COMPOSITION, massThickness: Infinity };
const material = { composition: COMPOSITION, densityGPerCm3: 5 };
const resin = { composition: massFractionsOf('C21H24O4'), densityGPerCm3: 1.2 };
const BODIES = {
  bulk,
  'bulk under carbon': { kind: 'stack', layers: [coat('carbon', 15), thick] },
  'film on silica': {
    kind: 'stack',
    layers: [layerOf(material, 0.5), { composition: massFractionsOf('SiO2'), massThickness: Infinity }],
  },
  'grain in resin': { kind: 'grain', grain: material, diameterUm: 3, surrounding: resin, coats: [coat('carbon', 15)] },
};

const { columns, y } = plainProblem(simulate({ body: bulk }, CONDITIONS));
const nnlsMs = await medianMs(() => nnls(columns, y), 15);
const rows = [];
for (const [name, body] of Object.entries(BODIES)) {
  let run = 0;
  // A beam, a detector and an axis that nothing is kept of yet.
  const anew = () => {
    const detector = { ...DEFAULT_DETECTOR, noiseEv: 50 + ++run / 100 };
    return { ...CONDITIONS, beamKev: 20 + run / 100, detector, axis: { offsetEv: run / 10, gainEv: 10 } };
  };
  rows.push({
    name,
    freshMs: freshMs(name),
    coldMs: await medianMs(() => simulate({ body }, anew()), 20),
    warmMs: await medianMs(() => simulate({ body }, { ...CONDITIONS, seed: ++run }), 40),
  });
}
report(rows);

/** First spectrum of a fresh process, modules loaded already; median. */
function freshMs(name) {
  const script = fileURLToPath(new URL('simulate-case.mjs', import.meta.url));
  const body = JSON.stringify(BODIES[name], (_, value) =>
    value === Infinity ? 'thick' : value instanceof Float64Array ? [...value] : value,
  );
  const times = Array.from({ length: FRESH_RUNS }, () =>
    Number(execFileSync(process.execPath, [script, body], { encoding: 'utf8' })),
  );
  return times.sort((a, b) => a - b)[Math.floor(FRESH_RUNS / 2)];
}

async function medianMs(task, iterations) {
  const bench = new Bench({ time: 0, iterations, warmupTime: 0, warmupIterations: 20 });
  bench.add('task', task);
  await bench.run();
  const { result } = bench.tasks[0];
  if (result.error) throw result.error;
  return result.latency.p50;
}

function report(measured) {
  if (process.argv.includes('--json')) {
    process.stdout.write(`${JSON.stringify({ nnlsMs, bodies: measured }, null, 2)}\n`);
    return;
  }
  const shown = (ms) => `${ms.toFixed(1)} (${(ms / nnlsMs).toFixed(2)})`;
  console.log('Milliseconds for a simulated spectrum, and in brackets those of plain NNLS it makes');
  console.table(
    measured.map(({ name, freshMs: fresh, coldMs: cold, warmMs: warm }) => ({
      body: name,
      'fresh process': shown(fresh),
      'new beam, detector, axis': shown(cold),
      'the same again': shown(warm),
    })),
  );
  console.log(`plain NNLS of ${columns.length} columns: ${nnlsMs.toFixed(1)} ms`);
}
