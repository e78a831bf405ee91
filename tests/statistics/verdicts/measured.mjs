// Scores verdicts on measured spectra of known samples, source by source. After `npm run build`:
//   node measured.mjs [--core CHECKOUT] [--only TEXT] [--json FILE] [FOLDER ...]      FOLDER: else /work/shared/real and real-hard
import { commandLine, faint, saveRows, symbolsWith, timed } from './core.mjs';
import { knownSpectra } from './known-spectra.mjs';
import { EVERYWHERE, reliability, share, sumOf, table } from './table.mjs';

const { values, positionals } = await commandLine({ only: { type: 'string', default: '' } });
const { identify } = values.core;

/** Above this the electrons passed through the specimen: told apart, not pooled. kV. */
const TRANSMISSION_KV = 60;

/** Spectra of course work and transmission by what they are, the others by their folder. */
function sourceOf(file, kV) {
  const [source] = file.split('/');
  return kV > TRANSMISSION_KV ? `${source} (transmission)` : source;
}

function score({ file, spectrum, options, kV, strong, possible }) {
  const { record, ms } = timed(() => identify(spectrum, options));
  const present = symbolsWith(record, 'present');
  const known = [...strong, ...possible];
  const told = record.elements
    .filter(({ symbol, verdict }) => verdict !== 'blind' && !EVERYWHERE.includes(symbol) && !possible.includes(symbol))
    .map(({ symbol, probability }) => [probability, strong.includes(symbol)]);
  return {
    file,
    source: sourceOf(file, kV),
    counts: record.conditions.totalCounts,
    present,
    open: symbolsWith(record, 'open'),
    invented: present.filter((symbol) => !known.includes(symbol)),
    strong: strong.length,
    missed: strong.filter((symbol) => !present.includes(symbol)),
    faint: faint(record),
    cPerChannel: record.fit.c / record.fit.channels,
    warnings: record.warnings.map(({ code }) => code),
    told,
    ms,
  };
}

const rows = [];
for (const known of knownSpectra(values.core, positionals, values.only)) {
  const row = score(known);
  rows.push(row);
  console.error(`${row.file}: invented ${row.invented.join(' ') || '-'}; missed ${row.missed.join(' ') || '-'}`);
}
saveRows(values.json, rows);

const perSpectrum = (row) => [
  row.file,
  row.counts.toExponential(1),
  row.invented.join(' ') || '-',
  row.missed.map((symbol) => symbol + (row.open.includes(symbol) ? '(open)' : '')).join(' ') || '-',
  row.faint.join(' ') || '-',
  row.open.join(' ') || '-',
  row.cPerChannel.toFixed(2),
  (row.ms / 1000).toFixed(1),
  row.warnings.join(' ') || '-',
];
console.log(
  table(['spectrum', 'counts', 'false', 'missed', '< 4 sigma', 'open', 'C/n', 's', 'warnings'], rows.map(perSpectrum)),
);

function perSource(source, own) {
  return [
    source,
    own.length,
    sumOf(own, ({ invented }) => invented.length),
    share(
      sumOf(own, ({ invented }) => invented.length),
      own.length,
      0,
    ),
    own.filter(({ invented }) => invented.length === 0).length,
    `${sumOf(own, ({ missed }) => missed.length)} of ${sumOf(own, ({ strong }) => strong)}`,
    sumOf(own, (row) => row.faint.length),
    (sumOf(own, ({ open }) => open.length) / own.length).toFixed(1),
    `${Math.min(...own.map((r) => r.cPerChannel)).toFixed(2)}-${Math.max(...own.map((r) => r.cPerChannel)).toFixed(2)}`,
    (sumOf(own, ({ ms }) => ms) / 1000 / own.length).toFixed(2),
  ];
}
const thick = rows.filter(({ source }) => !source.endsWith('(transmission)'));
const sources = [...new Set(rows.map(({ source }) => source))];
console.log(
  `\nFalse: 'present' outside the lists. < 4 sigma: 'present', its own amount below 4 sigma. s: processor time per spectrum.`,
);
console.log(
  table(
    ['source', 'spectra', 'false', 'per 100', 'clean', 'strong missed', '< 4 sigma', 'open each', 'C/n', 's'],
    [
      ...sources.map((source) =>
        perSource(
          source,
          rows.filter((row) => row.source === source),
        ),
      ),
      ...(thick.length > 0 ? [perSource('all but transmission', thick)] : []),
    ],
  ),
);
console.log(`\nReliability, transmission left out, without ${EVERYWHERE.join(', ')} and what may be found:`);
console.log(reliability(thick.flatMap(({ told }) => told)));
