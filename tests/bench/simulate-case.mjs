// The case of simulate.mjs. Run with a body as JSON, it prints the milliseconds of the first spectrum of its process.
import { fileURLToPath } from 'node:url';
import { mixture, simulate } from '../../packages/core/dist/index.js';

/** An invented paint of ten elements. */
export const COMPOSITION = mixture(
  Object.entries({ Pb: 20, Hg: 10, S: 5, O: 25, C: 10, Cu: 10, Fe: 5, Ca: 5, Si: 5, Sn: 5 }).map(
    ([formula, massFraction]) => ({ formula, massFraction }),
  ),
);
export const CONDITIONS = { beamKev: 20, totalCounts: 300_000, seed: 1 };

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const body = JSON.parse(process.argv[2], (_, value) => {
    if (value === 'thick') return Infinity;
    return Array.isArray(value) && typeof value[0] === 'number' ? Float64Array.from(value) : value;
  });
  const start = performance.now();
  simulate({ body }, CONDITIONS);
  process.stdout.write(String(performance.now() - start));
}
