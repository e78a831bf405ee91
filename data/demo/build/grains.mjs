// Reads grains.csv: the grains of the INVENTED altarpiece. Two samples of paint, each with a ground (1), an underpaint (2) and
// paint (3), layers counted from the ground up; 'M' is the mount. Compositions are ideal formulas with some natural company, in
// per cent by mass. The order of the rows fixes the seeds: add new grains at the end.
import { readFileSync } from 'node:fs';

/** Epoxy with a little chlorine left from its making. */
const RESIN = 'C21H24O4 99.4 + C3H5ClO 0.6';
/** What surrounds a grain and is seen with it: drying oil or animal glue, and the resin it is mounted in. */
const MEDIA = {
  resin: RESIN,
  oil: `C57H98O10 70 + C21H24O4 29.8 + C3H5ClO 0.2`,
  glue: `C5H8N2O2 70 + C21H24O4 29.8 + C3H5ClO 0.2`,
};

const [head, ...rows] = readFileSync(new URL('grains.csv', import.meta.url), 'utf8')
  .trimEnd()
  .split('\n');
const columns = head.split(',');

export const GRAINS = rows.map((row) => {
  const cells = Object.fromEntries(row.split(',').map((cell, i) => [columns[i], cell]));
  const [sample, place, particle] = cells.name.split('-');
  const share = Number(cells.medium_percent) / 100;
  return {
    file: `${cells.name}.msa`,
    sample,
    layer: place.startsWith('L') ? place.slice(1) : '',
    particle,
    beamKev: Number(cells.beam_kev),
    counts: Number(cells.counts),
    composition: [...parts(cells.grain_percent, 1), ...parts(MEDIA[cells.medium], share)],
    note: cells.note,
    known: particle === 'std' ? cells.grain_percent.replace(/ 100$/, '') : '',
    time: cells.time,
    xMm: cells.x_mm,
    yMm: cells.y_mm,
    madeOf: cells.made_of,
  };
});

/** 'CaCO3 83 + SiO2 1.2' (per cent of the whole) -> parts, scaled. */
function parts(text, scale) {
  const listed = text === '' ? [] : text.split(' + ').map((part) => part.split(' '));
  return listed.map(([formula, percent]) => ({ formula, massFraction: (Number(percent) / 100) * scale }));
}
