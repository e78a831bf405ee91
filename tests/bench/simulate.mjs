// Times a whole simulated spectrum (10 elements, 2,048 channels), with cold and with warm caches, against plain non-negative
// least squares of the same number of channels. Never part of `npm test`; nothing here is asserted.
// Usage: node tests/bench/simulate.mjs [--json]
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { Bench } from 'tinybench';
import { coat, layerOf, massFractionsOf, simulate } from '../../packages/core/dist/index.js';
import { nnls } from './nnls.mjs';
import { plainProblem } from './problem.mjs';
import { COMPOSITION, CONDITIONS } from './simulate-case.mjs';

const COLD_RUNS = 9;

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
  let seed = 0;
  rows.push({
    name,
    coldMs: coldMs(name),
    warmMs: await medianMs(() => simulate({ body }, { ...CONDITIONS, seed: seed++ }), 40),
  });
}
report(rows);

/** First spectrum of a fresh process, modules loaded already; median. */
function coldMs(name) {
  const script = fileURLToPath(new URL('simulate-case.mjs', import.meta.url));
  const body = JSON.stringify(BODIES[name], (_, value) =>
    value === Infinity ? 'thick' : value instanceof Float64Array ? [...value] : value,
  );
  const times = Array.from({ length: COLD_RUNS }, () =>
    Number(execFileSync(process.execPath, [script, body], { encoding: 'utf8' })),
  );
  return times.sort((a, b) => a - b)[Math.floor(COLD_RUNS / 2)];
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
  console.table(
    measured.map(({ name, coldMs: cold, warmMs: warm }) => ({
      body: name,
      'cold, ms': cold.toFixed(1),
      'warm, ms': warm.toFixed(2),
      'cold / NNLS': (cold / nnlsMs).toFixed(2),
      'warm / NNLS': (warm / nnlsMs).toFixed(2),
    })),
  );
  console.log(`plain NNLS of ${columns.length} columns: ${nnlsMs.toFixed(1)} ms`);
}
