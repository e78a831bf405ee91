// Makes each deliberate defect in memory and runs the tests nearest to it: they must fail.
//   npm run mutate                 all; exit code 1 where one survives
//   npm run mutate -- WORD         those whose name or file holds WORD
import { spawnSync } from 'node:child_process';
import { DEFECTS } from './defects.mjs';

const [word = ''] = process.argv.slice(2);
const chosen = [...DEFECTS.entries()].filter(([, { name, file }]) => `${name} ${file}`.includes(word));
let killed = 0;
for (const [i, { name, file, tests }] of chosen) {
  const vitest = [
    'node_modules/vitest/vitest.mjs',
    'run',
    '--config',
    '.config/vitest.defect.config.ts',
    '--bail',
    '1',
  ];
  const { status, stdout, stderr } = spawnSync(process.execPath, [...vitest, ...tests], {
    env: { ...process.env, LIMNER_DEFECT: String(i) },
    encoding: 'utf8',
  });
  // A run that could not start proves nothing.
  if (status !== 0 && !/\d+ failed/.test(stdout)) throw new Error(`${name}: the tests did not run\n${stdout}${stderr}`);
  if (status !== 0) killed++;
  console.log(`${status === 0 ? 'SURVIVED' : 'killed  '} ${file}: ${name}`);
}
console.log(`${killed} of ${chosen.length} killed`);
process.exitCode = killed === chosen.length ? 0 : 1;
