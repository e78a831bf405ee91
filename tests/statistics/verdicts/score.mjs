// Reads blind suites made by ../other-physics/simulate.py and scores the verdicts, suite by suite. After `npm run build`:
//   node score.mjs [--core CHECKOUT] [--every N] [--first N] [--json FILE] SUITE ...
//   node score.mjs --rows FILE ...        the tables of saved rows (of several parts or suites) again, nothing is read
// `false`: present, but of mass fraction 0 in truth.json. Recall: of elements needed by 8 sigma and more, and by 5 to 8, by
// `unique_sigma` (all shapes known) and `firm_sigma` (shapes in doubt). Majors: above 10 % by mass and needed by 5 sigma, C left out
// (oxygen behind a thick window has no line).
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { commandLine, faint, saveRows, symbolsWith, timed } from './core.mjs';
import { EVERYWHERE, median, reliability, share, sumOf, table } from './table.mjs';

const MAJOR = 0.1;
/** Elements of the detector itself, which its own fluorescence shows. */
const OWN = ['Al', 'Si'];
const isMajor = ({ symbol, fraction, unique }) => fraction > MAJOR && symbol !== 'C' && unique >= 5;

const { values, positionals } = await commandLine({
  every: { type: 'string', default: '1' },
  first: { type: 'string', default: '1000000' },
  rows: { type: 'boolean', default: false },
});
const { identify, readSpectrum } = values.core;

function score(suite, name, truth) {
  const { record, ms } = timed(() => identify(readSpectrum(readFileSync(join(suite, name)), { name })));
  const { massFractions, unique_sigma: unique = {}, firm_sigma: firm = {} } = truth;
  const verdict = new Map(record.elements.map((element) => [element.symbol, element.verdict]));
  return {
    suite: basename(suite),
    name,
    counts: truth.counts,
    invented: symbolsWith(record, 'present')
      .filter((symbol) => !(massFractions[symbol] > 0))
      .map((symbol) => ({ symbol, origin: record.elements.find((e) => e.symbol === symbol).origin })),
    elements: Object.entries(massFractions).map(([symbol, fraction]) => ({
      symbol,
      fraction,
      unique: unique[symbol] ?? 0,
      firm: firm[symbol] ?? 0,
      verdict: verdict.get(symbol) ?? 'not-seen',
    })),
    open: symbolsWith(record, 'open').length,
    faint: faint(record),
    cPerChannel: record.fit.c / record.fit.channels,
    converged: record.fit.converged,
    told: record.elements
      .filter((e) => e.verdict !== 'blind' && !EVERYWHERE.includes(e.symbol))
      .map(({ symbol, probability }) => [probability, massFractions[symbol] > 0]),
    ms,
  };
}

function scored(suite) {
  const truths = Object.entries(JSON.parse(readFileSync(join(suite, 'truth.json'), 'utf8')));
  return truths
    .slice(0, Number(values.first))
    .filter((_, k) => k % Number(values.every) === 0)
    .map(([name, truth]) => score(suite, name, truth));
}

const rows = positionals.flatMap((place) => (values.rows ? JSON.parse(readFileSync(place, 'utf8')) : scored(place)));
saveRows(values.json, rows);

/** What went wrong in one spectrum, or null. */
function faultsOf({ suite, name, counts, invented, elements, faint: weak }) {
  const lost = elements.filter((e) => e.verdict !== 'present' && (e.unique >= 8 || isMajor(e)));
  if (invented.length + lost.length + weak.length === 0) return null;
  const said = lost.map(
    (e) => `${e.symbol} ${(100 * e.fraction).toPrecision(2)} % ${e.unique}/${e.firm} sigma ${e.verdict}`,
  );
  const made = invented.map(({ symbol, origin }) => (origin === 'setting' ? `${symbol} (setting)` : symbol));
  return `${suite}/${name} ${counts.toExponential(1)}: false ${made.join(' ') || '-'}; lost ${said.join(', ') || '-'}; below 4 sigma ${weak.join(' ') || '-'}`;
}
for (const fault of rows.map(faultsOf)) if (fault !== null) console.log(fault);

function line(label, own) {
  const elements = own.flatMap((row) => row.elements);
  const recall = (by, from, to) => {
    const asked = elements.filter((e) => e[by] >= from && e[by] < to);
    return `${share(asked.filter(({ verdict }) => verdict === 'present').length, asked.length)} of ${asked.length}`;
  };
  const majors = elements.filter(isMajor);
  const lost = majors.filter(({ verdict }) => verdict !== 'present');
  const invented = own.flatMap((row) => row.invented);
  return [
    label,
    own.length,
    ((100 * invented.length) / own.length).toFixed(1),
    ((100 * invented.filter(({ symbol }) => !OWN.includes(symbol)).length) / own.length).toFixed(1),
    own.filter((row) => row.invented.length === 0).length,
    recall('unique', 8, Infinity),
    recall('unique', 5, 8),
    recall('firm', 8, Infinity),
    recall('firm', 5, 8),
    `${lost.length} (${lost.filter(({ verdict }) => verdict === 'open').length}) of ${majors.length}`,
    (sumOf(own, ({ open }) => open) / own.length).toFixed(1),
    sumOf(own, ({ faint: weak }) => weak.length),
    median(own.map(({ cPerChannel }) => cPerChannel)).toFixed(2),
    (sumOf(own, ({ ms }) => ms) / own.length).toFixed(0),
  ];
}
const suites = [...new Set(rows.map(({ suite }) => suite))];
const head = [
  'suite',
  'spectra',
  'false/100',
  'but Al Si',
  'clean',
  '>= 8 sigma',
  '5-8',
  'firm >= 8',
  'firm 5-8',
  'majors lost (open)',
  'open',
  '< 4 sigma',
  'C/n',
  'ms',
];
console.log(
  `\nRecall in per cent. < 4 sigma: 'present' with an own amount below 4 sigma. 'But Al Si': without\nthese two, which the detector's own fluorescence shows. ms: processor time.`,
);
console.log(
  table(head, [
    ...suites.map((suite) =>
      line(
        suite,
        rows.filter((row) => row.suite === suite),
      ),
    ),
    line('all', rows),
  ]),
);
const counted = rows.flatMap(({ invented }) => invented.map(({ symbol }) => symbol));
const often = [...new Set(counted)].map((symbol) => [symbol, counted.filter((other) => other === symbol).length]);
console.log(
  `\nFalse by element: ${
    often
      .sort((a, b) => b[1] - a[1])
      .map(([symbol, n]) => `${symbol} ${n}`)
      .join(', ') || 'none'
  }`,
);
console.log(`\nReliability, without ${EVERYWHERE.join(', ')}:`);
console.log(reliability(rows.flatMap(({ told }) => told)));
