// A score over code, not over chosen defects: a seeded sample of single changes to identify/, fit/, pigments/ and the session's commit order, each
// made in memory and tried on what readings answered before, on the tests nearest to it, on those of its folder, and on those of whole readings.
//   npm run mutate:sample -- [--number 80] [--seed 1] [--from 0] [--near | --kept]     --near leaves out the last, --kept all but the first
// Prints each mutant, and the share killed with its 95 % interval.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { rolldown } from 'rolldown';
import { mutating } from './plugin.mjs';
import { sitesOf } from './sites.mjs';

/** A mutant that runs for ever is killed. */
const LONGEST_MS = 900_000;
const CORE = 'packages/core/src';
/** What judges whole readings; half a minute. */
const READINGS = `${CORE}/reading/identify.test.ts`;
const SCOPES = [
  { folder: `${CORE}/identify`, tests: [`${CORE}/identify`, 'tests/record-schema.test.ts'], whole: READINGS },
  { folder: `${CORE}/fit`, tests: [`${CORE}/fit`, `${CORE}/identify`], whole: READINGS },
  {
    folder: `${CORE}/pigments`,
    tests: [`${CORE}/pigments`, 'tests/knowledge'],
    whole: 'tests/published/pigment-pairs.test.ts',
  },
  { folder: 'packages/session/src/results', only: /output\.ts$/, tests: ['packages/session/src/results'] },
];

const { values } = parseArgs({
  options: {
    number: { type: 'string', default: '80' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
    near: { type: 'boolean', default: false },
    kept: { type: 'boolean', default: false },
  },
});

const sites = SCOPES.flatMap(({ folder, only, tests, whole }) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.test.ts') && (only?.test(name) ?? true))
    .filter((name) => name !== 'kernel-code.ts')
    .flatMap((name) => sitesOf(`${folder}/${name}`).map((site) => ({ ...site, tests, whole }))),
);
const next = draws(Number(values.seed));
const chosen = Array.from({ length: Number(values.number) }, () => sites[Math.floor(next() * sites.length)]);
let [killed, tried] = [0, 0];
for (const { tests, whole, ...mutant } of chosen.slice(Number(values.from))) {
  const own = mutant.file.replace(/\.ts$/, '.test.ts');
  const lists = values.kept ? [] : [existsSync(own) ? [own] : [], tests, values.near || !whole ? [] : [whole]];
  const dead =
    (whole && (await answersOtherwise(mutant))) || lists.some((list) => list.length > 0 && fails(list, mutant));
  tried++;
  if (dead) killed++;
  console.log(`${dead ? 'killed  ' : 'SURVIVED'} ${mutant.file}:${mutant.line} ${mutant.from} -> ${mutant.to}`);
}
const [low, high] = wilson(killed, tried);
console.log(`${killed} of ${tried} killed, ${sites.length} places: ${(100 * killed) / tried} % (${low} to ${high} %)`);

/** Whether what readings answered before (tests/kept-answers.test.ts) is answered otherwise: the quickest of all to see. */
async function answersOtherwise(mutant) {
  const folder = mkdtempSync(join(tmpdir(), 'limner-mutant-'));
  const file = join(folder, 'kept.mjs');
  try {
    const input = 'tests/mutate/kept.ts';
    const resolve = { conditionNames: ['@limner/source'] };
    const bundle = await rolldown({ input, platform: 'node', resolve, plugins: [mutating(mutant)] });
    await bundle.write({ file });
    return spawnSync(process.execPath, [file], { stdio: 'ignore', timeout: LONGEST_MS }).status !== 0;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

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
