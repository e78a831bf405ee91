import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { median } from './processor.mjs';

const SETS = ['demo', 'simulated', 'measured'];
const HISTORY = fileURLToPath(new URL('history/', import.meta.url));

/** Medians and worst cases by set. @param other what `otherMs` is of: 'itself' for the control */
export function summaryOf(rows, grown, coldMs, other) {
  return {
    date: new Date().toISOString(),
    commit: commit(),
    node: process.version,
    cores: cpus().length,
    load: loadavg()[0],
    coldMs,
    other,
    otherRatio: median(rows.map(({ processorMs, otherMs }) => otherMs / processorMs)),
    sets: Object.fromEntries(
      SETS.map((set) => [set, rows.filter((row) => row.set === set)])
        .filter(([, of]) => of.length > 0)
        .map(([set, of]) => [set, summaryOfSet(of)]),
    ),
    growth: grown.map(({ fitMs, nnlsMs }) => fitMs / nnlsMs),
  };
}

function summaryOfSet(rows) {
  const spread = (of) => ({ median: median(rows.map(of)), worst: Math.max(...rows.map(of)) });
  return {
    spectra: rows.length,
    processorMs: spread(({ processorMs }) => processorMs),
    nnls: spread(({ processorMs, nnlsMs }) => processorMs / nnlsMs),
    scipy: Object.fromEntries(
      Object.keys(rows[0].scipyMs).map((version) => [
        version,
        spread(({ processorMs, scipyMs }) => processorMs / scipyMs[version]),
      ]),
    ),
    fit: spread(({ fitMs, nnlsMs }) => fitMs / nnlsMs),
    rounds: spread(({ rounds }) => rounds),
    designs: spread(({ designs }) => designs),
    fits: spread(({ fits }) => fits),
    arrays: spread(({ arrays }) => arrays),
    megabytes: spread(({ megabytes }) => megabytes),
  };
}

export function print(summary, rows, grown) {
  const figure = (value) => (value < 10 ? value.toFixed(2) : value.toFixed(0));
  console.table(
    rows.map((row) => ({
      spectrum: row.name,
      channels: row.channels,
      'processor, ms': figure(row.processorMs),
      'wall, ms': figure(row.wallMs),
      [`${summary.other}, ms`]: figure(row.otherMs),
      'NNLS, ms': figure(row.nnlsMs),
      ...Object.fromEntries(Object.entries(row.scipyMs).map(([version, ms]) => [`scipy ${version}, ms`, figure(ms)])),
      rounds: row.rounds,
      designs: row.designs,
      fits: row.fits,
      factorisations: row.factorisations,
      arrays: row.arrays,
      MB: figure(row.megabytes),
    })),
  );
  for (const [set, of] of Object.entries(summary.sets)) {
    const both = ({ median: middle, worst }) => `${figure(middle)} / ${figure(worst)}`;
    console.log(
      `${set}, ${of.spectra} spectra, median / worst: processor ${both(of.processorMs)} ms; over NNLS ${both(of.nnls)}; ` +
        Object.entries(of.scipy)
          .map(([version, ratio]) => `over scipy ${version} ${both(ratio)}; `)
          .join('') +
        `rounds ${both(of.rounds)}; designs ${both(of.designs)}; fits ${both(of.fits)}; arrays ${both(of.arrays)}, ${both(of.megabytes)} MB; ` +
        `Poisson fit of all elements over NNLS ${both(of.fit)}`,
    );
  }
  for (const { problem, fitMs, nnlsMs } of grown)
    console.log(`Poisson fit over NNLS, ${problem}: ${figure(fitMs / nnlsMs)} (${figure(fitMs)} ms)`);
  console.log(
    `${summary.other === 'itself' ? 'Control: the same code' : summary.other} over this: ${figure(summary.otherRatio)}`,
  );
  console.log(`limner identify FILE, cold, processor of the whole process: ${figure(summary.coldMs)} ms`);
}

/** A file of the day and minute in `history`: the summary in the first lines, then a row per spectrum. */
export function keep(summary, rows) {
  mkdirSync(HISTORY, { recursive: true });
  const { scipyMs, ...plain } = rows[0];
  const columns = [...Object.keys(plain), ...Object.keys(scipyMs).map((version) => `scipy ${version} Ms`)];
  const cell = (value) => (typeof value === 'number' ? Number(value.toPrecision(4)) : `"${value}"`);
  const lines = rows.map(({ scipyMs: ms, ...row }) =>
    [...Object.values(row), ...Object.values(ms)].map(cell).join(','),
  );
  const { sets, ...head } = summary;
  const notes = [head, ...Object.entries(sets).map(([set, of]) => ({ set, ...of }))].map(
    (note) => `# ${JSON.stringify(note)}`,
  );
  const file = `${summary.date.slice(0, 16).replaceAll(':', '')}.csv`;
  writeFileSync(`${HISTORY}${file}`, [...notes, columns.join(','), ...lines, ''].join('\n'));
}

function commit() {
  try {
    const git = (...args) =>
      execFileSync('git', args, { cwd: HISTORY.replace(/history\/$/, ''), encoding: 'utf8' }).trim();
    return (
      git('rev-parse', '--short', 'HEAD') + (git('status', '--porcelain', '--', '../../packages') ? ' and changes' : '')
    );
  } catch {
    return null;
  }
}
