// Scores verdicts on measured spectra altered as other instruments and hands would have left them (alterations.mjs): nothing new may
// be found. After `npm run build`:
//   node altered.mjs [--core CHECKOUT] [--only TEXT] [--kinds TEXT,...] [--seed N] [--json FILE] [FOLDER ...]
import { commandLine, saveRows, symbolsWith, timed } from './core.mjs';
import { knownSpectra } from './known-spectra.mjs';
import { ALTERATIONS, randomFrom } from './alterations.mjs';
import { sumOf, table } from './table.mjs';

const { values, positionals } = await commandLine({
  only: { type: 'string', default: '' },
  kinds: { type: 'string', default: '' },
  seed: { type: 'string', default: '1' },
});
const { identify } = values.core;
const wanted = values.kinds.split(',');
const kinds = Object.keys(ALTERATIONS).filter((kind) => wanted.some((text) => kind.includes(text)));
/** Elements outside the lists that were nearly called present are told too. */
const NEAR = 0.9;
/** Beam energy where neither file nor list states one, keV. */
const UNSTATED_KEV = 20;

function score(kind, { file, spectrum, options, strong, possible }) {
  const random = randomFrom(Number(values.seed));
  const statedKev = options.beamKev ?? spectrum.beamKev ?? UNSTATED_KEV;
  const { conditions = {}, ...changed } = ALTERATIONS[kind]({ ...spectrum, topEv: 1000 * statedKev }, random);
  const { beam, takeOffDeg } = conditions;
  const told = {
    ...options,
    ...(takeOffDeg === undefined ? {} : { takeOffDeg }),
    ...(typeof beam === 'number' ? { beamKev: statedKev * beam } : {}),
  };
  const altered = { ...spectrum, ...changed, ...(beam === 'none' ? { beamKev: null } : {}) };
  const { record, ms } = timed(() => identify(altered, beam === 'none' ? {} : told));
  const known = [...strong, ...possible];
  const present = symbolsWith(record, 'present');
  const invented = present.filter((symbol) => !known.includes(symbol));
  const near = record.elements.filter((e) => e.verdict === 'open' && e.probability > NEAR && !known.includes(e.symbol));
  return {
    kind,
    file,
    invented,
    near: near.map(({ symbol }) => symbol),
    strong: strong.length,
    missed: strong.filter((symbol) => !present.includes(symbol)),
    warnings: record.warnings.map(({ code }) => code),
    ms,
  };
}

const rows = [];
for (const known of knownSpectra(values.core, positionals, values.only)) {
  for (const kind of kinds) {
    const row = score(kind, known);
    rows.push(row);
    const { invented, missed, near } = row;
    const said = [invented, near, missed].map((symbols) => symbols.join(' ') || '-');
    if (invented.length + near.length > 0 || missed.length > 0)
      console.error(`${known.file}, ${kind}: invented ${said[0]}; nearly ${said[1]}; missed ${said[2]}`);
  }
}
saveRows(values.json, rows);

const line = (kind, own) => [
  kind,
  own.length,
  sumOf(own, ({ invented }) => invented.length),
  sumOf(own, ({ near }) => near.length),
  `${sumOf(own, ({ missed }) => missed.length)} of ${sumOf(own, ({ strong }) => strong)}`,
  (sumOf(own, ({ ms }) => ms) / 1000 / own.length).toFixed(2),
];
console.log(
  `False: 'present' outside the lists. Nearly: 'open' outside them above ${NEAR * 100} %. s: processor time per reading.`,
);
console.log(
  table(
    ['altered', 'spectra', 'false', 'nearly', 'strong missed', 's'],
    [
      ...kinds.map((kind) =>
        line(
          kind,
          rows.filter((row) => row.kind === kind),
        ),
      ),
      line('all', rows),
    ],
  ),
);
