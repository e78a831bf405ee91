import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
// @ts-expect-error a plain script
import { DEFECTS } from './mutate/defects.mjs';

interface Defect {
  readonly name: string;
  readonly file: string;
  readonly from: string;
  readonly tests: readonly string[];
}
const root = fileURLToPath(new URL('..', import.meta.url));

it.each(DEFECTS as readonly Defect[])('`npm run mutate` can still make the defect: $name', ({ file, from, tests }) => {
  expect(readFileSync(join(root, file), 'utf8').split(from)).toHaveLength(2);
  for (const test of tests) expect(existsSync(join(root, test)), test).toBe(true);
});
