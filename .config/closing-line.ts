import type { Reporter, TestModule } from 'vitest/node';

/** Ends the run with one plain line of what the tests came to, counted from the runner's own results, after the files that were left out. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const tally = { passed: 0, failed: 0, skipped: 0 };
    for (const module of modules) {
      const states = [...module.children.allTests()].map((test) => test.result().state);
      const skipped = states.filter((state) => state === 'skipped' || state === 'pending').length;
      tally.passed += states.filter((state) => state === 'passed').length;
      tally.failed += states.filter((state) => state === 'failed').length;
      tally.skipped += skipped;
      // A file that broke before its tests could run counts as one failure.
      if (module.errors().length > 0) tally.failed++;
      if (skipped > 0)
        process.stdout.write(`left out: ${skipped} of ${states.length} tests in ${module.relativeModuleId}\n`);
    }
    const stray = errors.length ? `, ${errors.length} errors outside tests` : '';
    process.stdout.write(`tests: ${tally.passed} passed, ${tally.failed} failed, ${tally.skipped} skipped${stray}\n`);
  }
}
