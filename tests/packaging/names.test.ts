import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { saveSurvey } from '../../source/screens/survey/files.ts';
import { run } from '../commands/run.ts';

// Microsoft, "Naming Files, Paths, and Namespaces": what no name on Windows may be or hold.
const FORBIDDEN = /[<>:"\\|?*\0-\x1f]|[. ]$|^(con|prn|aux|nul|com[1-9]|lpt[1-9])(\.|$)/i;
const SURVEY = resolve(import.meta.dirname, '../../fixtures/sailing-club/survey.yaml');

const folder = mkdtempSync(join(tmpdir(), 'loopward-names-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('what the program writes has names that every system takes', async () => {
  const env = { HOME: folder, LOOPWARD_HOME: join(folder, 'jobs') };
  mkdirSync(join(folder, 'jobs'));
  const job = join(folder, 'jobs', 'rehearsed');
  for (const argv of [
    ['rehearse', SURVEY, '--seed', '3', '--job', job],
    ['start', SURVEY],
    ['handover', job, '--out', join(folder, 'papers')],
    ['handover', job, '--redact', '--out', join(folder, 'redacted')],
    ['labels', SURVEY, '--out', join(folder, 'labels')],
    ['carry-on', job, '--job', join(folder, 'elsewhere')],
    ['settings', 'units', 'imperial'],
  ])
    await run(argv, { env });
  const [opened = ''] = readdirSync(join(folder, 'jobs')).filter((name) => name !== 'rehearsed');
  const photo = join(folder, 'a photo.jpg');
  writeFileSync(photo, 'not really');
  const shift = { do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' };
  const attach = { do: 'photo', path: photo, says: 'the panel', by: 'p1' };
  for (const action of [shift, attach])
    await run(['act', join(folder, 'jobs', opened), JSON.stringify(action)], { env });
  saveSurvey(join(folder, 'jobs'), 'format: x\n', 'Boat store: "east" <2>? *');

  const names = (readdirSync(folder, { recursive: true }) as string[]).flatMap((path) => path.split('/'));
  expect(names.length).toBeGreaterThan(30);
  expect(names.filter((name) => FORBIDDEN.test(name))).toEqual([]);
});
