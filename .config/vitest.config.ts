import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  // Production React knows no development JSX.
  oxc: { jsx: { runtime: 'automatic', development: false } },
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    // Two cores: one worker each; long-running checks set their own limit beside the test.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Production React, as shipped: the development build keeps every render's timing in memory.
    env: { NODE_ENV: 'production', FORCE_COLOR: '3' },
    unstubEnvs: true,
  },
});
