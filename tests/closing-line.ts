import type { Reporter, TestModule } from 'vitest/node';

/** Ends the run with one plain line that any CI can read. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]) {
    const n = { passed: 0, failed: 0, skipped: 0, pending: 0 };
    for (const m of modules) for (const t of m.children.allTests()) n[t.result().state]++;
    const broken = modules.filter((m) => m.state() === 'failed' && ![...m.children.allTests('failed')].length).length;
    setTimeout(() => console.log(`${n.passed} passed, ${n.failed + broken} failed, ${n.skipped + n.pending} skipped`), 0);
  }
}
