import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { buildDocument } from '../../source/handover/build-document.ts';
import { MISSING } from '../../source/handover/document.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { RECORD_FIELDS, RECORD_TABLES } from '../../source/handover/sections/record-fields.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { run } from '../commands/run.ts';
import { withSection } from '../procedure/developers.ts';
import { carryOutJob } from './jobs.ts';
import { seenText } from './page-reader.ts';

const file = new URL('../../DEVELOPERS.md', import.meta.url);

test('the fields of the handover in DEVELOPERS.md are those of the documents (UPDATE=1 writes them anew)', () => {
  const text = readFileSync(file, 'utf8');
  const current = withSection(text, 'fields', fieldsTable());
  if (process.env.UPDATE === '1') writeFileSync(file, current);
  else expect(text).toBe(current);
});

test('every field names the practice that asks for it; every table has a section', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-fields-'));
  try {
    const source = readHandoverSource(await carryOutJob('demo', folder));
    const sections = buildDocument(source).sections.map(({ id }) => id);
    for (const { section, asks } of RECORD_TABLES) {
      expect(sections).toContain(section);
      expect(asks).not.toBe('');
    }
    const steps = new Set(source.collected.replay.procedure.steps.map(({ id }) => id));
    const fields = Object.values(RECORD_FIELDS).flat();
    for (const { name, held, asks, from } of fields) {
      expect(asks, name).not.toBe('');
      // A field that is read from a step must be one that step asks for: a renamed field would be missing for ever.
      const [, step, asked] = held.match(/^step (\S+): (.*)$/) ?? [];
      const own = source.collected.replay.procedure.steps.find(
        ({ id }) => id === step || id.startsWith(`${step}.`),
      );
      if (step === undefined || step.startsWith('impairment.')) continue;
      expect(own, `${step} of ${[...steps].join(' ')}`).toBeDefined();
      for (const one of asked!.split(', ')) {
        expect(
          own!.proof.map(({ field }) => field),
          name,
        ).toContain(one);
      }
      expect(from(source), name).not.toBeNull();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('a job that has only begun shows what it lacks as missing, on the page and in the text', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-fields-'));
  try {
    const survey = new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url).pathname;
    const dir = join(folder, 'job');
    expect(await run(['start', survey, '--job', dir])).toMatchObject({ code: 0 });
    const documents = composeHandover(readHandoverSource(dir), 'a4-65');
    const page = seenText(documents.get('handover.html')!);
    const text = documents.get('handover.txt')!;
    for (const name of ['Battery as found', 'User shown', 'Old battery', 'Zone card', 'Photographs']) {
      expect(page).toContain(`${name} ${MISSING}`);
      expect(text).toMatch(new RegExp(`^${name} +${MISSING}$`, 'm'));
    }
    expect(page).toContain('NOT CLOSED');
    const { fields } = JSON.parse(documents.get('handover.json')!);
    expect(fields.People['User shown']).toBeNull();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

function fieldsTable(): string {
  const fields = Object.entries(RECORD_FIELDS).flatMap(([group, list]) =>
    list.map(({ name, asks, held }) => `| ${group} | ${name} | ${asks} | ${held} |`),
  );
  const tables = RECORD_TABLES.map(({ name, asks, section }) => `| ${name} | ${asks} | \`${section}\` |`);
  return [
    '| group | field | asked for by | held in |',
    '| --- | --- | --- | --- |',
    ...fields,
    '',
    '| row by row | asked for by | section of the page |',
    '| --- | --- | --- |',
    ...tables,
  ].join('\n');
}
