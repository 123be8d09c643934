import type { Reporter, TestModule } from 'vitest/node';

/** Says how a run ended in one line that people and scripts read alike: "12 passed, 0 failed". */
export default class ClosingLineReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const counts = { passed: 0, failed: errors.length, skipped: 0 };
    for (const module of modules) {
      const before = counts.failed;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state !== 'pending') counts[state] += 1;
      }
      // a file that could not be loaded has no tests to fail
      if (module.state() === 'failed' && counts.failed === before) counts.failed += 1;
    }
    const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
    const line = `${counts.passed} passed, ${counts.failed} failed${skipped}`;
    // the teardown of the run still prints after this hook, so the line waits for the very end
    process.once('exit', () => process.stdout.write(`${line}\n`));
  }
}
