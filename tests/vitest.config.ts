import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: '.',
  test: {
    reporters: ['default', './tests/closing-line.ts'],
    maxWorkers: 2,
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
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/client/**/*.test.ts'],
          globalSetup: ['./tests/client/setup.ts'],
          testTimeout: 60_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
