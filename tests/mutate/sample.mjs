// A score over code, not over chosen defects: a seeded sample of single changes to identify/, fit/, pigments/ and the session's commit order, each
// made in memory and tried on the tests nearest to it.
//   node tests/mutate/sample.mjs [--number 80] [--seed 1] [--from 0]      prints each mutant, and the share killed with its 95 % interval (Wilson 1927)
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { sitesOf } from './sites.mjs';

/** A mutant that runs for ever is killed. */
const LONGEST_MS = 900_000;
const CORE = 'packages/core/src';
/** What judges a whole reading stands in for a file without tests of its own. */
const READINGS = [`${CORE}/identify`, `${CORE}/reading/identify.test.ts`, `${CORE}/reading/wrong-axis.test.ts`];
const SCOPES = [
  { folder: `${CORE}/identify`, tests: READINGS },
  { folder: `${CORE}/fit`, tests: [`${CORE}/fit`, ...READINGS] },
  { folder: `${CORE}/pigments`, tests: [`${CORE}/pigments`, 'tests/published/pigment-pairs.test.ts'] },
  { folder: 'packages/session/src/results', only: /output\.ts$/, tests: ['packages/session/src/results'] },
];

const { values } = parseArgs({
  options: {
    number: { type: 'string', default: '80' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
  },
});

const sites = SCOPES.flatMap(({ folder, only, tests }) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts') && (only?.test(name) ?? true))
    .filter((name) => name !== 'kernel-code.ts')
    .flatMap((name) => sitesOf(`${folder}/${name}`).map((site) => ({ ...site, tests }))),
);
const next = draws(Number(values.seed));
const chosen = Array.from({ length: Number(values.number) }, () => sites[Math.floor(next() * sites.length)]);
let [killed, tried] = [0, 0];
for (const { tests, ...mutant } of chosen.slice(Number(values.from))) {
  const own = mutant.file.replace(/\.ts$/, '.test.ts');
  const dead = (existsSync(own) && fails([own], mutant)) || fails(tests, mutant);
  tried++;
  if (dead) killed++;
  console.log(`${dead ? 'killed  ' : 'SURVIVED'} ${mutant.file}:${mutant.at} ${mutant.from} -> ${mutant.to}`);
}
const [low, high] = wilson(killed, tried);
console.log(`${killed} of ${tried} killed, ${sites.length} places: ${(100 * killed) / tried} % (${low} to ${high} %)`);

function fails(tests, mutant) {
  const { status } = spawnSync(
    process.execPath,
    ['node_modules/vitest/vitest.mjs', 'run', '--config', '.config/vitest.defect.config.ts', '--bail', '1', ...tests],
    { env: { ...process.env, LIMNER_MUTANT: JSON.stringify(mutant) }, stdio: 'ignore', timeout: LONGEST_MS },
  );
  return status !== 0;
}

/** E.B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209. */
function wilson(k, n) {
  const [z, p] = [1.96, k / n];
  const centre = p + (z * z) / (2 * n);
  const half = z * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  return [centre - half, centre + half].map((bound) => Math.round((100 * bound) / (1 + (z * z) / n)));
}

function draws(seed) {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}
