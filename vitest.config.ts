import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    testTimeout: 120_000,
    hookTimeout: 120_000,
    pool: 'threads',
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: {
          name: 'rooms',
          include: ['src/**/*.test.ts'],
          exclude: ['src/server/**'],
          // these keep no state beyond what they compute: their modules are loaded once, not once a file
          isolate: false,
        },
      },
      {
        extends: true,
        test: { name: 'whole', include: ['src/server/**/*.test.ts', 'test/**/*.test.ts'] },
      },
    ],
  },
});
