import type { Reporter, TestModule } from 'vitest/node';

/** Ends the run with one plain line of what the tests came to, counted from the runner's own results. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const tally = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const module of modules) {
      for (const test of module.children.allTests()) tally[test.result().state]++;
      // A file that broke before its tests could run counts as one failure.
      if (module.errors().length > 0) tally.failed++;
    }
    const stray = errors.length ? `, ${errors.length} errors outside tests` : '';
    const skipped = tally.skipped + tally.pending;
    process.stdout.write(`tests: ${tally.passed} passed, ${tally.failed} failed, ${skipped} skipped${stray}\n`);
  }
}
