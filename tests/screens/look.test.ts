import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { CASES } from './cases.ts';

test('npm run look shows every screen', { timeout: 120_000 }, () => {
  const root = join(import.meta.dirname, '../..');
  const { status, stdout, stderr } = spawnSync(process.execPath, ['.config/look.mjs'], {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1' },
  });
  expect(stderr).toBe('');
  expect(status).toBe(0);
  const shown = [...stdout.matchAll(/^### (.+)$/gm)].map(([, name]) => name);
  expect(shown).toEqual(Object.keys(CASES));
});
