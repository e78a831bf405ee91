// The kept answers without a test runner: exit code 1 at the first that differs. sample.mjs bundles it with a mutant in it.
import { readFileSync } from 'node:fs';
import { CASES } from '../fixtures/kept-cases.ts';
import { differences, linesOf } from '../fixtures/kept.ts';

for (const [name, answer] of Object.entries(CASES)) {
  const before = readFileSync(`tests/fixtures/kept-answers/${name}.txt`, 'utf8').trimEnd().split('\n');
  if (differences(before, linesOf(answer())).length > 0) process.exit(1);
}
