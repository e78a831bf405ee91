import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
// @ts-expect-error a plain script
import { DEFECTS } from '../tests/mutate/defects.mjs';
// @ts-expect-error a plain script
import { mutating } from '../tests/mutate/plugin.mjs';

interface Defect {
  readonly file: string;
  readonly from: string;
  readonly to: string;
  /** Where `from` stands; without, where it stands first. */
  readonly at?: number;
}
const mutant = process.env['LIMNER_MUTANT'];
const defect = mutant
  ? (JSON.parse(mutant) as Defect)
  : (DEFECTS as readonly Defect[])[Number(process.env['LIMNER_DEFECT'])];

/** The tests of a deliberate defect (tests/mutate/run.mjs) or of a mutant of the sample (sample.mjs): one source is read with one text in the place of another. */
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  resolve: { conditions: ['@limner/source'] },
  ssr: { resolve: { conditions: ['@limner/source'] } },
  plugins: [mutating(defect) as Plugin],
  test: { testTimeout: 600_000, hookTimeout: 600_000, isolate: false, maxWorkers: 1 },
});
