import { defineConfig } from 'vitest/config';
// @ts-expect-error a plain script
import { DEFECTS } from '../tests/mutate/defects.mjs';

interface Defect {
  readonly file: string;
  readonly from: string;
  readonly to: string;
}
const { file, from, to } = (DEFECTS as readonly Defect[])[Number(process.env['LIMNER_DEFECT'])];

/** The tests of a deliberate defect (tests/mutate/run.mjs): one source is read with one text in the place of another. */
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  resolve: { conditions: ['@limner/source'] },
  ssr: { resolve: { conditions: ['@limner/source'] } },
  plugins: [
    {
      name: 'defect',
      enforce: 'pre',
      transform: (code, id) => (id.replaceAll('\\', '/').endsWith(`/${file}`) ? code.replace(from, to) : undefined),
    },
  ],
  test: { testTimeout: 600_000, hookTimeout: 600_000 },
});
