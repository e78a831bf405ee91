import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const ALL = ['packages/**/*.test.ts', 'apps/**/*.test.ts', 'tests/**/*.test.ts'];
const LEFT_OUT = ['**/node_modules/**', '**/dist/**', 'tests/bench/**'];
/** Take longest: processes, browsers, many readings. */
const LONG =
  /readme|session-interrupted|browser\/|cli-options|reading\/(prepare|identify|wrong-axis)|kinds\/kinds|real-|statistics\/|packed-core|cli-ratios|pigment-pairs|odd-spectra|viewer-load|reference-pages/;

/** The longest begin first, so that no worker is left with one at the end. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    return [
      ...sorted.filter(({ moduleId }) => LONG.test(moduleId)),
      ...sorted.filter(({ moduleId }) => !LONG.test(moduleId)),
    ];
  }
}
/** Feigns a system that refuses. */
const FEIGNING = 'tests/robustness/refusing-system.test.ts';

/** How much of each is taken; what the environment says goes before. */
const SHARES = {
  LIMNER_WHOLE: '1',
  LIMNER_PIGMENTS: 'all',
  LIMNER_OVERLAPS: '1',
  LIMNER_GRAINS: '1000',
  LIMNER_DRAWS: '200',
  LIMNER_EXERCISES: '1000',
  LIMNER_SESSION: '100',
  LIMNER_ODD: '1000:5000',
  LIMNER_RATIOS: '10',
};
const given = (names: readonly string[]): Record<string, string> =>
  Object.fromEntries(names.flatMap((name) => (process.env[name] === undefined ? [] : [[name, process.env[name]]])));

/** `npm run statistics`: every case of what `npm test` takes a share of. */
const WHOLE = {
  include: [
    'tests/statistics/**/*.test.ts',
    'tests/published/pigment-pairs.test.ts',
    'packages/core/src/kinds/kinds.test.ts',
    'packages/core/src/reading/{identify,wrong-axis}.test.ts',
    'tests/cli-ratios.test.ts',
    'tests/session-interrupted.test.ts',
    'tests/robustness/odd-spectra.test.ts',
    'tests/browser/same-bytes.test.ts',
  ],
  env: { ...SHARES, ...given(Object.keys(SHARES)) },
  testTimeout: 7_200_000,
  hookTimeout: 7_200_000,
};

export default defineConfig(({ mode }) => ({
  root: new URL('..', import.meta.url).pathname,
  resolve: { conditions: ['@limner/source'] },
  ssr: { resolve: { conditions: ['@limner/source'] } },
  test: {
    // Far beyond what any test takes on a quiet machine: none may fail because the machine is busy.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    // On two cores: a third works while another waits for a browser or a process.
    maxWorkers: 3,
    sequence: { sequencer: LongestFirst },
    reporters: ['default', './.config/closing-line.ts'],
    // Core is pure: what one file leaves loaded serves the next. What feigns a module must load it anew.
    isolate: false,
    ...(mode === 'statistics'
      ? WHOLE
      : {
          projects: [
            { extends: true, test: { name: 'shared', include: ALL, exclude: [...LEFT_OUT, FEIGNING] } },
            { extends: true, test: { name: 'alone', include: [FEIGNING], isolate: true } },
          ],
        }),
  },
}));
