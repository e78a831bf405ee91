// Scores verdicts on measured spectra added two by two, as a beam that scans over grains of two samples would have left them: what both
// hold may be found, nothing else. Photons of the second are put on the axis of the first, the sharper one gets the other's noise, and
// each keeps its own sum peaks: none between the two. After `npm run build`:
//   node blended.mjs [--core CHECKOUT] [--only TEXT] [--parts N,...] [--seed N] [--json FILE] [FOLDER ...]
import { commandLine, saveRows, symbolsWith, timed } from './core.mjs';
import { knownSpectra } from './known-spectra.mjs';
import { kept, normal, randomFrom } from './alterations.mjs';
import { sumOf, table } from './table.mjs';

const { values, positionals } = await commandLine({
  only: { type: 'string', default: '' },
  parts: { type: 'string', default: '0.5,0.1' },
  seed: { type: 'string', default: '1' },
});
const { identify } = values.core;
/** Counts of a blend, if the two have as many. */
const MOST_COUNTS = 1e6;
/** No such microscope: a beam energy misread in the file (see QUIRKS.md of the folder). */
const MOST_KEV = 60;
const FWHM_PER_SIGMA = Math.sqrt(8 * Math.log(2));

/** Measured spectra with the axis and resolution that a reading of each finds. */
const known = [...knownSpectra(values.core, positionals, '')]
  .filter(({ spectrum, options }) => (spectrum.beamKev ?? options.beamKev) < MOST_KEV)
  .map((one) => {
    const { axis } = identify(one.spectrum, one.options);
    return {
      ...one,
      keV: Math.round(one.spectrum.beamKev ?? one.options.beamKev),
      source: one.file.split('/')[0],
      total: one.spectrum.counts.reduce((sum, n) => sum + n, 0),
      offsetEv: axis.offsetEv.value,
      gainEv: axis.gainEv.value,
      sigmaEv: axis.fwhmMnEv.value / FWHM_PER_SIGMA,
    };
  });

const endOf = ({ offsetEv, gainEv, spectrum }) => offsetEv + gainEv * (spectrum.counts.length - 1);

/** The first with this part of the second, up to where the shorter of the two ends. */
function blend(first, second, part, random) {
  const { offsetEv, gainEv } = first;
  const n = Math.floor((Math.min(endOf(first), endOf(second)) - offsetEv) / gainEv);
  const counts = new Float64Array(n);
  const total = Math.min(first.total / (1 - part), second.total / part, MOST_COUNTS);
  const add = (one, wanted, sigmaEv) => {
    one.spectrum.counts.forEach((recorded, i) => {
      for (let k = kept(Math.round(recorded), wanted / one.total, random); k > 0; k--) {
        const energyEv = one.offsetEv + one.gainEv * (i + random() - 0.5) + sigmaEv * normal(random);
        const channel = Math.round((energyEv - offsetEv) / gainEv);
        if (channel >= 0 && channel < n) counts[channel]++;
      }
    });
  };
  const missing = (one, other) => Math.sqrt(Math.max(0, other.sigmaEv ** 2 - one.sigmaEv ** 2));
  add(first, total * (1 - part), missing(first, second));
  add(second, total * part, missing(second, first));
  return { ...first.spectrum, counts };
}

function score(first, second, part) {
  const spectrum = blend(first, second, part, randomFrom(Number(values.seed)));
  const { record, ms } = timed(() => identify(spectrum, first.options));
  const holds = [first, second].flatMap(({ strong, possible }) => [...strong, ...possible]);
  const present = symbolsWith(record, 'present');
  const strong = [...new Set(part < 0.5 ? first.strong : [...first.strong, ...second.strong])];
  return {
    blend: `${first.file} + ${part * 100} % ${second.file}`,
    part,
    invented: present.filter((symbol) => !holds.includes(symbol)),
    strong: strong.length,
    missed: strong.filter((symbol) => !present.includes(symbol)),
    warnings: record.warnings.map(({ code }) => code),
    ms,
  };
}

const rows = [];
for (const part of values.parts.split(',').map(Number)) {
  for (const [i, first] of known.entries()) {
    for (const [k, second] of known.entries()) {
      // Halves are the same either way round.
      if (first.source === second.source || first.keV !== second.keV || (part === 0.5 && k < i)) continue;
      if (!`${first.file} ${second.file}`.includes(values.only)) continue;
      const row = score(first, second, part);
      rows.push(row);
      if (row.invented.length > 0) console.error(`${row.blend}: invented ${row.invented.join(' ')}`);
    }
  }
}
saveRows(values.json, rows);

const line = (name, own) => [
  name,
  own.length,
  sumOf(own, ({ invented }) => invented.length),
  `${sumOf(own, ({ missed }) => missed.length)} of ${sumOf(own, ({ strong }) => strong)}`,
  (sumOf(own, ({ ms }) => ms) / 1000 / own.length).toFixed(2),
];
console.log("False: 'present' outside both lists. s: processor time per reading.");
console.log(
  table(
    ['part of the second', 'blends', 'false', 'strong missed', 's'],
    [...new Set(rows.map(({ part }) => part)), 'all'].map((part) =>
      line(
        String(part),
        rows.filter((row) => part === 'all' || row.part === part),
      ),
    ),
  ),
);
