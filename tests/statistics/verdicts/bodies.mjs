// Scores verdicts on what the model of one thick, even matter does not hold for: films on something else, and small cut grains in their
// surroundings, of substances drawn by chance. By the project's own simulator of layers and grains, bent. After `npm run build`:
//   node bodies.mjs [--core CHECKOUT] [--spectra N] [--seed N] [--json FILE]
import { readFileSync } from 'node:fs';
import { commandLine, saveRows, symbolsWith, timed } from './core.mjs';
import { randomFrom } from './alterations.mjs';
import { share, sumOf, table } from './table.mjs';

const { values } = await commandLine({
  spectra: { type: 'string', default: '150' },
  seed: { type: 'string', default: '1' },
});
const { identify, massFractionsOf, simulate } = values.core;

/** Pigments, mounts, metals and minerals (common practice, no source). */
const SUBSTANCES =
  `ZnO ZnS PbCO3 HgS CdS TiO2 BaSO4 Fe2O3 CaCO3 CaSO4 Cu2C2H6O4 PbCrO4 Cr2O3 CoAl2O4 SnO2 As2S3 Sb2O3 Pb2SnO4 MnO2 ZrSiO4 Au Ag Bi
SrCrO4 BiVO4 SiO2 Al2O3 KAlSi3O8 C5H8O2 C Si NaCl Cu Fe MoS2 WS2`.split(/\s+/);
const KEV = [5, 10, 15, 20, 25];
const COUNTS = [1e5, 5e5, 2e6];
/** Thickness of a film or radius of a grain, µm: log-uniform. */
const THINNEST_UM = 0.02;
const THICKEST_UM = 2;
/** Densities that thickness and size are taken with, g/cm3; what counts is their product. */
const DENSE = 4;
const LIGHT = 2;
const CM_PER_UM = 1e-4;
const BENDS = JSON.parse(readFileSync(new URL('../../fixtures/bends.json', import.meta.url), 'utf8'));
/** Warnings after which no verdict stands. */
const FAILED = ['not-settled', 'unfinished', 'axis-wrong', 'poor-fit'];

const random = randomFrom(Number(values.seed));
const oneOf = (list) => list[Math.floor(random() * list.length)];
const symbolsIn = (formula) => formula.match(/[A-Z][a-z]?/g);

function drawn() {
  const [on, below, kind] = [oneOf(SUBSTANCES), oneOf(SUBSTANCES), oneOf(['film', 'grain'])];
  const sizeUm = THINNEST_UM * (THICKEST_UM / THINNEST_UM) ** random();
  const [top, rest] = [massFractionsOf(on), massFractionsOf(below)];
  const carbon = { composition: massFractionsOf('C'), massThickness: 2e-6 };
  const body =
    kind === 'film'
      ? {
          kind: 'stack',
          layers: [
            { composition: top, massThickness: DENSE * sizeUm * CM_PER_UM },
            { composition: rest, massThickness: Infinity },
          ],
        }
      : {
          kind: 'grain',
          grain: { composition: top, densityGPerCm3: DENSE },
          diameterUm: 2 * sizeUm,
          surrounding: { composition: rest, densityGPerCm3: LIGHT },
          coats: [carbon],
        };
  const what = `${on} ${kind === 'film' ? 'on' : 'in'} ${below}, ${sizeUm.toPrecision(2)} um`;
  return { kind, body, what, held: new Set([...symbolsIn(on), ...symbolsIn(below), 'C', 'H']) };
}

const rows = [];
for (let k = 0; k < Number(values.spectra); k++) {
  const { kind, body, what, held } = drawn();
  const [beamKev, totalCounts, seed] = [oneOf(KEV), oneOf(COUNTS), 1000 * Number(values.seed) + k];
  const spectrum = simulate({ body }, { beamKev, takeOffDeg: 35, totalCounts, seed, perturb: { seed, ...BENDS } });
  const { record, ms } = timed(() => identify(spectrum));
  const invented = symbolsWith(record, 'present').filter((symbol) => !held.has(symbol));
  const warnings = record.warnings.map(({ code }) => code);
  const failed = FAILED.filter((code) => warnings.includes(code));
  rows.push({ kind, what, beamKev, totalCounts, seed, invented, failed, ms });
  if (invented.length + failed.length > 0)
    console.error(
      `${what}, ${beamKev} keV, ${totalCounts}: invented ${invented.join(' ') || '-'}; ${failed.join(' ') || '-'}`,
    );
}
saveRows(values.json, rows);

const line = (name, of) => [
  name,
  of.length,
  sumOf(of, ({ invented }) => invented.length),
  sumOf(of, ({ invented }) => invented.filter((symbol) => symbol !== 'Al' && symbol !== 'Si').length),
  share(of.filter(({ failed }) => failed.length > 0).length, of.length),
  Math.round(sumOf(of, ({ ms }) => ms) / Math.max(1, of.length)),
];
const of = (kind) => rows.filter((row) => row.kind === kind);
console.log(
  'False: `present`, and in neither of the two substances, carbon left out. Failed: with a warning after which no verdict stands, per cent.\n',
);
console.log(
  table(
    ['body', 'spectra', 'false', 'but Al Si', 'failed', 'ms'],
    [line('films', of('film')), line('grains', of('grain')), line('all', rows)],
  ),
);
