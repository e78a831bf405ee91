// What readings answer today, number by number, so that a change which nobody meant is seen. That an answer is kept proves nothing of its truth: the
// published and statistical tests judge that. After a wanted change, look at the difference that this makes in tests/fixtures/kept-answers:
//   LIMNER_RENEW=1 npx vitest run --config .config/vitest.config.ts tests/kept-answers.test.ts
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { CASES } from './fixtures/kept-cases.ts';
import { differences, linesOf } from './fixtures/kept.ts';

it.each(Object.entries(CASES))('%s: what was answered before', (name, answer) => {
  const file = new URL(`fixtures/kept-answers/${name}.txt`, import.meta.url);
  const now = linesOf(answer());
  if (process.env['LIMNER_RENEW']) {
    mkdirSync(new URL('.', file), { recursive: true });
    writeFileSync(file, `${now.join('\n')}\n`);
  }
  expect(differences(readFileSync(file, 'utf8').trimEnd().split('\n'), now)).toEqual([]);
});
