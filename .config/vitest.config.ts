import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// CI counts from a report of its own; a person reads the usual one.
const report = process.env.LOOPWARD_TEST_REPORT;

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  // Production React knows no development JSX.
  oxc: { jsx: { runtime: 'automatic', development: false } },
  test: {
    reporters: report ? ['default', 'json'] : ['default'],
    ...(report ? { outputFile: { json: report } } : {}),
    include: ['tests/**/*.test.{ts,tsx}'],
    // Two cores: one worker each; long-running checks set their own limit beside the test.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Production React, as shipped: the development build keeps every render's timing in memory.
    // Ink draws nothing before the end where it believes to be in CI.
    env: { NODE_ENV: 'production', FORCE_COLOR: '3', CI: 'false' },
    unstubEnvs: true,
  },
});
