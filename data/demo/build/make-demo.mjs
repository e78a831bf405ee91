// Makes the demonstration study of data/demo: INVENTED spectra of an INVENTED altarpiece, simulated, never measured.
// Run after `npm run build`: node data/demo/build/make-demo.mjs. The same build gives the same bytes.
import { renameSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { DEFAULT_DETECTOR, simulate, writeEmsa } from '@limner/core';
import { GRAINS } from './grains.mjs';

const folder = fileURLToPath(new URL('..', import.meta.url));

/** One instrument for the whole study: a detector of 127 eV, its axis a little off what the files state. */
const DETECTOR = { ...DEFAULT_DETECTOR, noiseEv: 45, windowUm: 0.33, deadLayerUm: 0.06, shelf: 0.012 };

/**
 * Physics bent away from the tables that the analysis uses, the same for the whole study (an error of the tables is the same in
 * every spectrum), so that reading the study is not merely undoing what made it. One standard deviation each.
 */
const OTHER_PHYSICS = {
  seed: 1503,
  lineRatio: 0.05,
  family: 0.15,
  attenuation: 0.05,
  continuum: 0.06,
  noise: 0.03,
  tail: 0.2,
  window: 0.1,
  offsetEv: 4,
  gain: 0.0008,
};

/** What is said otherwise here, and what the grain is made of: that stands in made-of.csv alone. */
const LEFT_OUT = new Set(['COMMENT', 'DATE', 'TIME', '##LIMNER-ORIGIN', '##LIMNER-BODY']);

GRAINS.forEach((grain, index) => write(grain, 4100 + index));
writeSheet();

function write({ file, beamKev, counts, composition, time, xMm, yMm }, seed) {
  const spectrum = simulate(
    { composition },
    { beamKev, takeOffDeg: 35, totalCounts: counts, seed, detector: DETECTOR, pileUp: 0.003, perturb: OTHER_PHYSICS },
  );
  const header = [
    { key: 'COMMENT', unit: '', value: 'INVENTED altarpiece study, simulated, not measured' },
    ...spectrum.header.filter(({ key }) => !LEFT_OUT.has(key)),
    { key: '##LIMNER-ORIGIN', unit: '', value: 'invented, simulated' },
    // An invented day at an invented stage; layers lie along y.
    { key: 'DATE', unit: '', value: '03-MAR-2026' },
    { key: 'TIME', unit: '', value: time },
    { key: 'XPOSITION', unit: 'mm', value: xMm },
    { key: 'YPOSITION', unit: 'mm', value: yMm },
  ];
  const title = `INVENTED altarpiece study ${file.replace('.msa', '')}`;
  save(file, writeEmsa({ ...spectrum, title, header }));
}

/** The sheet a session reads (what a microscopist would note), and apart from it what each grain was made of. */
function writeSheet() {
  const rows = GRAINS.map(({ file, sample, layer, particle, known, note }) => [
    file,
    sample,
    layer,
    particle,
    known,
    `INVENTED: ${note}`,
  ]);
  save('samples.csv', csv([['file', 'sample', 'layer', 'particle', 'known', 'note'], ...rows]));
  const made = GRAINS.map(({ file, madeOf }) => [file, `INVENTED: ${madeOf}`]);
  save('made-of.csv', csv([['file', 'made_of'], ...made]));
}

function csv(rows) {
  const cell = (value) => (/[",\n]/.test(String(value)) ? `"${String(value).replaceAll('"', '""')}"` : String(value));
  return rows.map((row) => row.map(cell).join(',')).join('\n') + '\n';
}

function save(name, text) {
  writeFileSync(`${folder}${name}.part`, text);
  renameSync(`${folder}${name}.part`, `${folder}${name}`);
}
