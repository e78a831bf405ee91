// Are spectra that X-rays excited told from those of electrons? After `npm run build` and ../other-physics/photons.py FOLDER:
//   node photons.mjs [--core CHECKOUT] FOLDER
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { commandLine, symbolsWith, timed } from './core.mjs';
import { sumOf, table } from './table.mjs';

const { values, positionals } = await commandLine();
const { identify, readSpectrum } = values.core;
const [folder] = positionals;

const rows = readdirSync(folder)
  .filter((file) => file.endsWith('.msa'))
  .map((name) => {
    const { record, ms } = timed(() => identify(readSpectrum(readFileSync(join(folder, name)), { name })));
    const told = record.warnings.some(({ code }) => code === 'photon-excited');
    return { name, told, present: symbolsWith(record, 'present'), ms };
  });
console.log(
  table(
    ['spectrum', 'told', 'present', 's'],
    rows.map(({ name, told, present, ms }) => [
      name,
      told ? 'yes' : 'no',
      present.join(' ') || '-',
      (ms / 1000).toFixed(1),
    ]),
  ),
);
console.log(`\nTold to be excited by X-rays: ${sumOf(rows, ({ told }) => Number(told))} of ${rows.length}.`);
