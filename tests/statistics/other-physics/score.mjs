// Reads blind suites made by simulate.py and scores the verdicts. After `npm run build`:
//   node tests/statistics/other-physics/score.mjs SUITE [SUITE ...]
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { identify, readSpectrum } from '@limner/core';

/** Major: above this mass fraction. Carbon is left out, as the resin brings it. */
const MAJOR = 0.1;

const sum = { spectra: 0, falsePresent: 0, clean: 0, majors: 0, open: 0, missed: 0, opens: 0, milliseconds: 0 };
for (const suite of process.argv.slice(2)) {
  for (const [name, { massFractions }] of Object.entries(JSON.parse(readFileSync(join(suite, 'truth.json'), 'utf8')))) {
    const start = performance.now();
    const record = identify(readSpectrum(readFileSync(join(suite, name)), { name }));
    sum.milliseconds += performance.now() - start;
    const withVerdict = (verdict) => record.elements.filter((e) => e.verdict === verdict).map((e) => e.symbol);
    const [present, open] = [withVerdict('present'), withVerdict('open')];
    const invented = present.filter((symbol) => !(symbol in massFractions));
    const majors = Object.keys(massFractions).filter((symbol) => massFractions[symbol] > MAJOR && symbol !== 'C');
    const notPresent = majors.filter((symbol) => !present.includes(symbol));
    sum.spectra++;
    sum.falsePresent += invented.length;
    sum.clean += invented.length === 0 ? 1 : 0;
    sum.majors += majors.length;
    sum.open += notPresent.filter((symbol) => open.includes(symbol)).length;
    sum.missed += notPresent.filter((symbol) => !open.includes(symbol)).length;
    sum.opens += open.length;
    if (invented.length + notPresent.length > 0) {
      console.log(
        `${join(suite, name)}: invented ${invented.join() || '-'}; major but not present ${notPresent.join() || '-'} (open: ${open.join() || '-'})`,
      );
    }
  }
}
const per = (value, by) => (value / by).toFixed(2);
console.log(
  `${sum.spectra} spectra: ${sum.falsePresent} false 'present' (${per(100 * sum.falsePresent, sum.spectra)} per 100), ${sum.clean} clean`,
);
console.log(
  `majors ${sum.majors}: ${sum.majors - sum.open - sum.missed} present, ${sum.open} open, ${sum.missed} neither`,
);
console.log(`open ${per(sum.opens, sum.spectra)} per spectrum; ${per(sum.milliseconds, sum.spectra)} ms per spectrum`);
