// Axes stated wrongly: gains 0.95 to 1.05 of the true one, offsets -100 to 100 eV. After `npm run build`:
//   node axis.mjs [--core CHECKOUT] [--grid coarse|cross|full] [--refused CODE,...] [--only TEXT] [--json FILE]
// cross: gains in steps of 0.5 % with the true offset, and offsets in steps of 20 eV with the true gain, 31 readings a spectrum; coarse:
// the same in steps of 1 % and 40 eV, 17; full: all pairs, 231.
// `--refused`: codes of the warnings or errors by which the core says that the axis is wrong.
// Outcomes: `+` right: elements that stand 8 sigma with the true axis are present, none false; `r` refused; `l` lost: strong elements not
// present, none false, nothing refused; `x` confident nonsense: an element `present` that is not there, nothing refused; `e` another error.
import { existsSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { commandLine, saveRows, symbolsWith, timed } from './core.mjs';
import { share, table } from './table.mjs';

const root = new URL('../../..', import.meta.url).pathname;
const GAINS = Array.from({ length: 21 }, (_, k) => Number((0.95 + 0.005 * k).toFixed(3)));
const OFFSETS = Array.from({ length: 11 }, (_, k) => -100 + 20 * k);
/** Strong: that much worse without it and with its best rival, in penalised C: 8 standard deviations. */
const STRONG = 64;

const { values } = await commandLine({
  grid: { type: 'string', default: 'cross' },
  refused: { type: 'string', default: 'axis-wrong' },
  only: { type: 'string', default: '' },
});
const { identify, readSpectrum, simulate } = values.core;
const codes = values.refused.split(',');

/** Measured spectra whose axis is right within 0.3 % (by their documents and K lines), demo and simulated ones. */
const MEASURED = [
  ['/work/shared/real', 'oil-paint/zinc_white_paint_point1.msa'],
  ['/work/shared/real', 'rhyolite-ash/site_4_Spectrum_1.txt'],
  ['/work/shared/real', 'gaas-wafer/GaAs_15kV.emsa'],
  ['/work/shared/real-hard', 'steel-rebar/CL10_D_100_Spectrum_1.txt'],
];
const DEMO = ['P1-L1-g01.msa', 'P1-L2-g01.msa', 'P2-L2-g01.msa'];
/** Composition, keV, counts. */
const SIMULATED = [
  ['Pb2SnO4', 20, 500_000],
  ['HgS', 20, 200_000],
  ['CaMgC2O6', 15, 1_000_000],
];

function* spectra() {
  for (const file of DEMO)
    yield {
      name: `demo ${file}`,
      spectrum: readSpectrum(readFileSync(join(root, 'data/demo', file)), { name: file }),
      known: [],
    };
  for (const [formula, beamKev, totalCounts] of SIMULATED) {
    const composition = [
      { formula, massFraction: 0.97 },
      { formula: 'C5H8O2', massFraction: 0.03 },
    ];
    const spectrum = simulate({ composition }, { beamKev, takeOffDeg: 35, totalCounts, seed: 77 });
    const symbols = [...(formula + 'CO').matchAll(/[A-Z][a-z]?/g)].map(([symbol]) => symbol);
    yield { name: `simulated ${formula}`, spectrum, known: symbols };
  }
  for (const [folder, file] of MEASURED) {
    if (!existsSync(join(folder, file))) {
      console.error(`${join(folder, file)} is absent: left out.`);
      continue;
    }
    const truth = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8'))[file];
    const read = readSpectrum(readFileSync(join(folder, file)), { name: basename(file) });
    const spectrum = { ...read, beamKev: read.beamKev ?? truth.stats.kV };
    yield { name: basename(file), spectrum, known: [...truth.strong, ...truth.possible] };
  }
}

/** With the true axis: what is strong, and what may be present. */
function reference({ spectrum, known }) {
  const record = identify(spectrum);
  const present = record.elements.filter(({ verdict }) => verdict === 'present');
  const strong = present
    .filter(({ evidence }) => evidence.deltaC >= STRONG && evidence.margin >= STRONG)
    .map(({ symbol }) => symbol)
    .filter((symbol) => known.length === 0 || known.includes(symbol));
  return { strong, allowed: new Set([...known, ...present.map(({ symbol }) => symbol)]) };
}

function outcome(spectrum, { strong, allowed }, gain, offsetEv) {
  const axis = { gainEv: spectrum.axis.gainEv * gain, offsetEv: spectrum.axis.offsetEv + offsetEv };
  let record, ms;
  try {
    ({ record, ms } = timed(() => identify({ ...spectrum, axis })));
  } catch (error) {
    return { gain, offsetEv, mark: codes.includes(error.code) ? 'r' : 'e', text: String(error.message), ms: 0 };
  }
  const present = symbolsWith(record, 'present');
  const invented = present.filter((symbol) => !allowed.has(symbol));
  const lost = strong.filter((symbol) => !present.includes(symbol));
  const refused = record.warnings.some(({ code }) => codes.includes(code));
  const mark = refused ? 'r' : invented.length > 0 ? 'x' : lost.length > 0 ? 'l' : '+';
  return { gain, offsetEv, mark, invented, lost, warnings: record.warnings.map(({ code }) => code), ms };
}

const isCoarse = (gain, offset) =>
  Math.round((gain - 0.95) * 1000) % 10 === 0 && (offset === 0 || (offset + 100) % 40 === 0);
const GRIDS = {
  full: () => true,
  cross: (gain, offset) => gain === 1 || offset === 0,
  coarse: (gain, offset) => (gain === 1 || offset === 0) && isCoarse(gain, offset),
};
const grid = OFFSETS.flatMap((offset) => GAINS.map((gain) => [gain, offset])).filter(([gain, offset]) =>
  GRIDS[values.grid](gain, offset),
);
const results = [];
for (const one of spectra()) {
  if (!one.name.includes(values.only)) continue;
  const truth = reference(one);
  const cells = grid.map(([gain, offset]) => outcome(one.spectrum, truth, gain, offset));
  results.push({ name: one.name, strong: truth.strong, cells });
  saveRows(values.json, results);
  console.error(`${one.name} (${truth.strong.join(' ')}): ${cells.map(({ mark }) => mark).join('')}`);
}

const MARKS = ['+', 'r', 'l', 'x', 'e'];
const counts = (cells) => MARKS.map((mark) => cells.filter((cell) => cell.mark === mark).length);
const rowOf = (label, cells) => [label, ...counts(cells), share(counts(cells)[0] + counts(cells)[1], cells.length)];
const head = ['', 'right +', 'refused r', 'lost l', 'nonsense x', 'error e', 'right or refused, %'];

console.log('Each spectrum over gains 0.95 to 1.05 (true offset) and offsets -100 to 100 eV (true gain):\n');
const marksAt = (cells, is) =>
  cells
    .filter(is)
    .map(({ mark }) => mark)
    .join('');
console.log(
  table(
    ['spectrum', 'gains', 'offsets'],
    results.map(({ name, cells }) => [
      name,
      marksAt(cells, (c) => c.offsetEv === 0),
      marksAt(cells, (c) => c.gain === 1),
    ]),
  ),
);
const all = results.flatMap(({ cells }) => cells);
console.log(`\n${table(head, [...results.map(({ name, cells }) => rowOf(name, cells)), rowOf('all', all)])}`);
const bands = [0, 0.005, 0.01, 0.02, 0.03, 0.05];
const inBand = (k) =>
  all.filter(
    ({ gain, offsetEv }) =>
      offsetEv === 0 && Math.abs(gain - 1) <= bands[k] + 1e-9 && (k === 0 || Math.abs(gain - 1) > bands[k - 1] + 1e-9),
  );
console.log(
  `\n${table(
    head,
    bands.map((band, k) => rowOf(`gain off by ${k === 0 ? '0' : `up to ${100 * band} %`}`, inBand(k))),
  )}`,
);
const byOffset = [0, 20, 40, 60, 80, 100].map((size) =>
  rowOf(
    `offset off by ${size} eV`,
    all.filter(({ gain, offsetEv }) => gain === 1 && Math.abs(offsetEv) === size),
  ),
);
console.log(`\n${table(head, byOffset)}`);
console.log('\nNonsense, the worst ten:');
const nonsense = results.flatMap(({ name, cells }) =>
  cells.filter(({ mark }) => mark === 'x').map((cell) => ({ name, ...cell })),
);
for (const { name, gain, offsetEv, invented, lost, warnings } of nonsense
  .sort((a, b) => b.invented.length - a.invented.length)
  .slice(0, 10)) {
  console.log(
    `${name}, gain ${gain}, offset ${offsetEv} eV: false ${invented.join(' ')}; lost ${lost.join(' ') || '-'}; warnings ${warnings.join(' ') || '-'}`,
  );
}
