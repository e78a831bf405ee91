// What identify does for each spectrum of the bench, counted, not timed: rounds of the search, linear models made, Poisson fits,
// factorisations, and arrays of numbers with their bytes. Prints JSON; run by run.mjs as a process of its own.
import { register } from 'node:module';

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

// A line more at the head of each counted function, as the modules are read.
globalThis.calls = Object.fromEntries(Object.values(COUNTED).map((name) => [name, 0]));
const hook = `export async function load(url, context, next) {
  const module = await next(url, context);
  if (!url.includes('/packages/core/dist/') || module.source == null || module.format !== 'module') return module;
  const head = /^(?:export )?function (${Object.values(COUNTED).join('|')})\\(.*\\) \\{$/gm;
  return { ...module, source: String(module.source).replace(head, (line, name) => line + ' globalThis.calls.' + name + '++;') };
}`;
register(`data:text/javascript,${encodeURIComponent(hook)}`);
const { identify } = await import('../../packages/core/dist/index.js');
const { allSpectra } = await import('./spectra.mjs');

const rows = [];
for (const { spectrum, options } of allSpectra(process.argv[2])) {
  [arrays, bytes] = [0, 0];
  for (const name of Object.keys(calls)) calls[name] = 0;
  identify(spectrum, options);
  const counts = Object.fromEntries(Object.entries(COUNTED).map(([column, name]) => [column, calls[name]]));
  if (Object.values(counts).includes(0))
    throw new Error(`A counted function has another name now: ${JSON.stringify(calls)}`);
  rows.push({ ...counts, arrays, megabytes: bytes / 2 ** 20 });
}
process.stdout.write(JSON.stringify(rows));
