// Times identify against plain non-negative least squares on the same spectra. Never part of `npm test`.
// Usage: npm run bench -- [--json] [--repeats N] [--only TEXT in a name or set] [--against FOLDER/index.js of another core, where it stands installed]
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { growth, fitOnce } from './fit.mjs';
import { nnls } from './nnls.mjs';
import { plainProblem } from './problem.mjs';
import { inTurns, median, once } from './processor.mjs';
import { keep, print, summaryOf } from './report.mjs';
import { interpreters, scipyMs } from './scipy.mjs';
import { allSpectra, DEMO } from './spectra.mjs';
import { timed } from './timed.mjs';

const COLD_RUNS = 5;
/** Spectra that are read before anything is timed: the engine compiles what runs often. */
const WARMING = 4;
/** A spectrum that takes longer than this is timed once: its own repeats would take most of the bench's time. */
const LONG_MS = 3000;

const { values: asked } = parseArgs({
  options: {
    json: { type: 'boolean' },
    repeats: { type: 'string', default: '3' },
    only: { type: 'string', default: '' },
    against: { type: 'string' },
  },
});
const root = fileURLToPath(new URL('../../', import.meta.url));
const dist = join(root, 'packages/core/dist');
const { identify } = await import(pathToFileURL(join(dist, 'index.js')));

const cases = allSpectra(asked.only).map((entry) => {
  const beamKev = entry.options.beamKev ?? entry.spectrum.beamKev;
  return { ...entry, problem: plainProblem(entry.spectrum, { beamKev }) };
});
const problems = cases.map(({ problem }) => problem);
const scipy = interpreters().flatMap((python) => scipyMs(python, problems) ?? []);
const work = JSON.parse(
  execFileSync(process.execPath, [fileURLToPath(new URL('work.mjs', import.meta.url)), asked.only], {
    encoding: 'utf8',
  }),
);
const rows = await withOther((other) => {
  for (const { spectrum, options } of cases.slice(0, WARMING))
    for (const read of [identify, other]) read(spectrum, options);
  return cases.map((one, i) => row(one, i, other));
});
const grown = growth().map(({ label, problem }) => {
  const [fit, plain] = inTurns([() => fitOnce(problem), () => nnls(problem.columns, problem.y)], 5);
  return { problem: label, fitMs: fit.processorMs, nnlsMs: plain.processorMs };
});
const summary = summaryOf(rows, grown, coldMs(), asked.against ?? 'itself');
if (asked.json) process.stdout.write(`${JSON.stringify({ summary, spectra: rows, growth: grown }, null, 2)}\n`);
else print(summary, rows, grown);
// Only whole runs can be compared with others.
if (asked.only === '') keep(summary, rows);

/** One spectrum: identify, the same of the other core (or of a second copy of this one: the control), both plain fits. */
function row({ set, name, majors, options, spectrum, problem }, i, other) {
  checkOptimal(nnls(problem.columns, problem.y), name);
  const slow = once(() => checkMajors(identify(spectrum, options), majors, name)).processorMs > LONG_MS;
  const [own, control, fit, plain] = inTurns(
    [
      () => identify(spectrum, options),
      () => other(spectrum, options),
      () => fitOnce(problem),
      () => nnls(problem.columns, problem.y),
    ],
    slow ? 1 : Number(asked.repeats),
  );
  if (!asked.json) process.stderr.write(`${name}\n`);
  return {
    set,
    name,
    channels: spectrum.counts.length,
    columns: problem.columns.length,
    ...own,
    otherMs: control.processorMs,
    fitMs: fit.processorMs,
    nnlsMs: plain.processorMs,
    ...work[i],
    scipyMs: Object.fromEntries(scipy.map(({ version, ms }) => [version, ms[i]])),
  };
}

/** Calls `use` with the identify to compare with: another core's, or that of a copy of this one, loaded as modules of its own. */
async function withOther(use) {
  if (asked.against) return use((await import(pathToFileURL(asked.against))).identify);
  const copy = mkdtempSync(join(root, 'packages/core/dist-bench-'));
  try {
    cpSync(dist, join(copy, 'dist'), { recursive: true });
    return use((await import(pathToFileURL(join(copy, 'dist/index.js')))).identify);
  } finally {
    rmSync(copy, { recursive: true, force: true });
  }
}

/** The conditions of Kuhn and Tucker: no gradient where x > 0, none upwards where x = 0. Relative to |y|, columns of norm 1. */
function checkOptimal({ x, gradient }, name) {
  const scale = Math.max(...gradient.map(Math.abs), ...x) * 1e-6;
  x.forEach((value, j) => {
    assert.ok(value >= 0, `${name}: coefficient ${j} is ${value}`);
    if (value > 0) assert.ok(Math.abs(gradient[j]) < scale, `${name}: gradient ${gradient[j]} at ${j} in use`);
    else assert.ok(gradient[j] < scale, `${name}: gradient ${gradient[j]} at ${j} left out`);
  });
}

function checkMajors(record, majors, name) {
  for (const symbol of majors) {
    const verdict = record.elements.find((element) => element.symbol === symbol)?.verdict;
    assert.equal(verdict, 'present', `${name}: ${symbol} is ${verdict}`);
  }
}

/** Processor of the whole process of `limner identify FILE`, ms; median. */
function coldMs() {
  const file = fileURLToPath(new URL('P1-L2-g01.msa', DEMO));
  return median(Array.from({ length: COLD_RUNS }, () => 1000 * timed(['identify', file]).processor));
}
