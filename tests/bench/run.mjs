// Times identify against plain non-negative least squares on the same spectra. Never part of `npm test`.
// Usage: npm run bench -- [--json]
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Bench } from 'tinybench';
import { identify } from '../../packages/core/dist/index.js';
import { nnls } from './nnls.mjs';
import { plainProblem } from './problem.mjs';
import { scipySeconds } from './scipy.mjs';
import { growth, fitOnce } from './fit.mjs';
import { DEMO, spectra } from './spectra.mjs';

const COLD_RUNS = 5;
const LIMNER = fileURLToPath(new URL('../../apps/cli/bin/limner.js', import.meta.url));

const asJson = process.argv.includes('--json');
const cases = spectra().map((entry) => ({ ...entry, problem: plainProblem(entry.spectrum) }));
const scipy = scipySeconds(cases.map(({ problem }) => problem));
const rows = [];
for (const [i, { name, majors, spectrum, problem }] of cases.entries()) {
  checkOptimal(nnls(problem.columns, problem.y), name);
  checkMajors(identify(spectrum), majors, name);
  rows.push({
    name,
    columns: problem.columns.length,
    identifyMs: await medianMs(() => identify(spectrum), 3),
    fitMs: await medianMs(() => fitOnce(problem), 9),
    nnlsMs: await medianMs(() => nnls(problem.columns, problem.y), 9),
    scipyMs: scipy ? scipy[i] * 1000 : null,
  });
  if (!asJson) process.stderr.write(`${name}\n`);
}
const grown = [];
for (const { label, problem } of growth()) {
  grown.push({
    problem: label,
    fitMs: await medianMs(() => fitOnce(problem), 9),
    nnlsMs: await medianMs(() => nnls(problem.columns, problem.y), 5),
  });
}
report(rows, grown, coldStartMs());

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

async function medianMs(task, iterations) {
  const bench = new Bench({ time: 0, iterations, warmupTime: 0, warmupIterations: 1 });
  bench.add('task', task);
  await bench.run();
  const { result } = bench.tasks[0];
  if (result.error) throw result.error;
  return result.latency.p50;
}

/** Whole process of `limner identify FILE`, median of five. */
function coldStartMs() {
  const file = fileURLToPath(new URL('P1-L2-g01.msa', DEMO));
  const times = Array.from({ length: COLD_RUNS }, () => {
    const start = performance.now();
    const { status, stderr } = spawnSync(process.execPath, [LIMNER, 'identify', file], { encoding: 'utf8' });
    assert.equal(status, 0, stderr);
    return performance.now() - start;
  });
  return median(times);
}

function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

function report(measured, grown, coldMs) {
  const ratios = measured.map(({ identifyMs, nnlsMs }) => identifyMs / nnlsMs);
  const against = measured.filter(({ scipyMs }) => scipyMs !== null);
  const scipyRatios = against.map(({ identifyMs, scipyMs }) => identifyMs / scipyMs);
  const fitRatios = measured.map(({ fitMs, nnlsMs }) => fitMs / nnlsMs);
  const fitScipyRatios = against.map(({ fitMs, scipyMs }) => fitMs / scipyMs);
  const summary = {
    node: process.version,
    cores: cpus().length,
    coldStartMs: coldMs,
    identifyMs: { median: median(measured.map(({ identifyMs }) => identifyMs)) },
    fitRatio: { median: median(fitRatios), worst: Math.max(...fitRatios) },
    fitScipyRatio: fitScipyRatios.length
      ? { median: median(fitScipyRatios), worst: Math.max(...fitScipyRatios) }
      : null,
    ratio: { median: median(ratios), worst: Math.max(...ratios) },
    scipyRatio: scipyRatios.length ? { median: median(scipyRatios), worst: Math.max(...scipyRatios) } : null,
  };
  if (asJson) {
    process.stdout.write(`${JSON.stringify({ summary, spectra: measured, growth: grown }, null, 2)}\n`);
    return;
  }
  const figure = (value) => (value === null || value === undefined ? '-' : value.toFixed(1));
  console.table(
    measured.map(({ name, columns, identifyMs, fitMs, nnlsMs, scipyMs }) => ({
      spectrum: name,
      columns,
      'identify, ms': figure(identifyMs),
      'fit of all elements, ms': figure(fitMs),
      'NNLS, ms': figure(nnlsMs),
      'scipy NNLS, ms': figure(scipyMs),
      ratio: figure(identifyMs / nnlsMs),
    })),
  );
  const { ratio, scipyRatio, fitRatio, fitScipyRatio } = summary;
  console.table(
    grown.map(({ problem, fitMs, nnlsMs }) => ({
      problem,
      'fit, ms': figure(fitMs),
      'NNLS, ms': figure(nnlsMs),
      ratio: fitMs === 0 ? '-' : (fitMs / nnlsMs).toFixed(2),
    })),
  );
  console.log(
    `Poisson fit of all elements / NNLS: median ${fitRatio.median.toFixed(2)}, worst ${fitRatio.worst.toFixed(2)}`,
  );
  if (fitScipyRatio)
    console.log(
      `Poisson fit of all elements / scipy's NNLS: median ${fitScipyRatio.median.toFixed(2)}, worst ${fitScipyRatio.worst.toFixed(2)}`,
    );
  console.log(`identify / NNLS: median ${figure(ratio.median)}, worst ${figure(ratio.worst)}`);
  if (scipyRatio)
    console.log(`identify / scipy's NNLS: median ${figure(scipyRatio.median)}, worst ${figure(scipyRatio.worst)}`);
  console.log(`limner identify FILE, whole process: median ${figure(coldMs)} ms of ${COLD_RUNS}`);
}
