// What identify does for each spectrum of the bench, counted, not timed: rounds of the search, linear models made, Poisson fits,
// factorisations, and arrays of numbers with their bytes. Prints JSON; run by run.mjs as a process of its own, since counting slows it down.
import { Session } from 'node:inspector/promises';

/** Functions whose calls are counted, by the column of the table. */
const COUNTED = {
  rounds: 'linearised',
  designs: 'designOf',
  fits: 'fitPoisson',
  factorisations: 'cholesky',
};

// Arrays stay those of the engine, so that counting them costs little: only who makes them is wrapped.
let [arrays, bytes] = [0, 0];
const counted = (made) => {
  arrays++;
  bytes += made.byteLength;
  return made;
};
const Plain = globalThis.Float64Array;
for (const [of, names] of [
  [Plain, ['from', 'of']],
  [Plain.prototype, ['map', 'slice', 'filter', 'toSorted']],
]) {
  for (const name of names) {
    const own = of[name];
    if (own)
      Object.defineProperty(of, name, {
        value: function (...args) {
          return counted(own.apply(this, args));
        },
      });
  }
}
globalThis.Float64Array = new Proxy(Plain, {
  construct(target, args) {
    const made = Reflect.construct(target, args);
    // A view of other memory is no array of its own.
    return args[0] instanceof ArrayBuffer ? made : counted(made);
  },
});

const { identify } = await import('../../packages/core/dist/index.js');
const { allSpectra } = await import('./spectra.mjs');
const cases = allSpectra(process.argv[2]);
const inspector = new Session();
inspector.connect();
await inspector.post('Profiler.enable');
await inspector.post('Profiler.startPreciseCoverage', { callCount: true, detailed: false });

/** Calls since the last time this was asked, by function. */
async function calls() {
  const { result } = await inspector.post('Profiler.takePreciseCoverage');
  const found = result
    .filter(({ url }) => url.includes('/packages/core/dist/'))
    .flatMap(({ functions }) => functions)
    .map(({ functionName, ranges }) => [functionName, ranges[0].count]);
  return Object.fromEntries(
    Object.entries(COUNTED).map(([column, name]) => [
      column,
      found.reduce((sum, [functionName, count]) => (functionName === name ? sum + count : sum), 0),
    ]),
  );
}

const rows = [];
await calls();
for (const { spectrum, options } of cases) {
  [arrays, bytes] = [0, 0];
  identify(spectrum, options);
  rows.push({ ...(await calls()), arrays, megabytes: bytes / 2 ** 20 });
}
process.stdout.write(JSON.stringify(rows));
