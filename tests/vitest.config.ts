import { defineConfig } from 'vitest/config';

/**
 * No limit of time here says how quick something must be: it only ends a test that hangs. How long one takes depends on the machine and on
 * what else it does. What must be quick is counted in processor time, against work done in the same run.
 */
const HANGS_MS = 600_000;

/** These put a module of their own in a module's place, so they must find none loaded; the others share what they load: reading the knowledge takes longest. */
const ALONE = ['tests/rules/engine/oracle.test.ts', 'tests/server/conversation/once.test.ts'];

export default defineConfig({
  root: '.',
  test: {
    reporters: ['default', './tests/closing-line.ts'],
    maxWorkers: 2,
    teardownTimeout: HANGS_MS,
    projects: [
      {
        test: {
          name: 'unit',
          include: [
            'tests/rules/**/*.test.ts',
            'tests/server/**/*.test.ts',
            'tests/outside/**/*.test.ts',
            'tests/bench/**/*.test.ts',
            'tests/mutation/**/*.test.ts',
            'tests/layout.test.ts',
          ],
          exclude: ALONE,
          isolate: false,
          testTimeout: HANGS_MS,
          hookTimeout: HANGS_MS,
        },
      },
      {
        test: { name: 'alone', include: ALONE, testTimeout: HANGS_MS, hookTimeout: HANGS_MS },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/client/**/*.test.ts'],
          globalSetup: ['./tests/client/setup.ts'],
          testTimeout: HANGS_MS,
          hookTimeout: HANGS_MS,
          expect: { poll: { timeout: HANGS_MS } },
          fileParallelism: false,
        },
      },
    ],
  },
});
