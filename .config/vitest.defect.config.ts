import { defineConfig } from 'vitest/config';
// @ts-expect-error a plain script
import { DEFECTS } from '../tests/mutate/defects.mjs';

interface Defect {
  readonly file: string;
  readonly from: string;
  readonly to: string;
  /** Where `from` stands; without, where it stands first. */
  readonly at?: number;
}
const mutant = process.env['LIMNER_MUTANT'];
const { file, from, to, at } = mutant
  ? (JSON.parse(mutant) as Defect)
  : (DEFECTS as readonly Defect[])[Number(process.env['LIMNER_DEFECT'])];

function changed(code: string): string {
  const place = at ?? code.indexOf(from);
  if (code.slice(place, place + from.length) !== from) throw new Error(`${file} does not hold ${from} at ${place}`);
  return code.slice(0, place) + to + code.slice(place + from.length);
}

/** The tests of a deliberate defect (tests/mutate/run.mjs) or of a mutant of the sample (sample.mjs): one source is read with one text in the place of another. */
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  resolve: { conditions: ['@limner/source'] },
  ssr: { resolve: { conditions: ['@limner/source'] } },
  plugins: [
    {
      name: 'defect',
      enforce: 'pre',
      transform: (code, id) => (id.replaceAll('\\', '/').endsWith(`/${file}`) ? changed(code) : undefined),
    },
  ],
  test: { testTimeout: 600_000, hookTimeout: 600_000, isolate: false, maxWorkers: 1 },
});
