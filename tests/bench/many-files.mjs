// Whether time per file and memory stay level from a small session to one of 20,000 files. Short spectra (256 channels, 400 counts), so that
// it can be run at all: what is measured is the session's own work and the memory held per file, not identification.
// Usage, after a build: node tests/bench/many-files.mjs [FILES ...; 500 2000 by default]
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { simulate, writeEmsa } from '@limner/core';
import { timed } from './timed.mjs';

const MATERIALS = ['PbCO3', 'HgS', 'CaCO3', 'Fe2O3', 'ZnO', 'BaSO4'];
const CONDITIONS = { beamKev: 10, channels: 256, axis: { offsetEv: 0, gainEv: 40 }, totalCounts: 400, liveTimeS: 1 };

function session(count) {
  const folder = mkdtempSync(join(tmpdir(), 'limner-many-'));
  for (let i = 0; i < count; i++) {
    const spectrum = simulate(
      { composition: MATERIALS[i % MATERIALS.length], title: `short ${i}` },
      { ...CONDITIONS, seed: i },
    );
    writeFileSync(join(folder, `s${String(i).padStart(6, '0')}.msa`), writeEmsa(spectrum));
  }
  return folder;
}

const counts = process.argv.slice(2).map(Number);
for (const count of counts.length > 0 ? counts : [500, 2000]) {
  const folder = session(count);
  try {
    for (const label of ['first', 'again, all kept']) {
      const { wall, processor, mb } = timed(['tag', folder, '--out', join(folder, 'out'), '--workers', '2', '--quiet']);
      const perFile = (seconds) => `${((1000 * seconds) / count).toFixed(2)} ms`;
      console.log(
        `${String(count).padStart(6)} files, ${label.padEnd(15)} ${perFile(wall)} and ${perFile(processor)} of processor a file, peak ${mb.toFixed(0)} MB; load ${loadavg()[0].toFixed(1)}`,
      );
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
