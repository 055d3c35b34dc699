import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { readRecords } from '../../source/journal/read.ts';
import { carryOutJob } from './jobs.ts';

/** Half hours off, and west of UTC: what a hasty reader of offsets gets wrong. */
const OPENED_IN = 'America/St_Johns';

describe('documents of a job that was opened in another zone', () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-stable-'));
  const own = process.env.TZ;
  let dir = '';

  beforeAll(async () => {
    process.env.TZ = OPENED_IN;
    dir = await carryOutJob('demo', folder);
  });
  afterAll(() => {
    restore();
    rmSync(folder, { recursive: true, force: true });
  });
  const restore = () => {
    if (own === undefined) delete process.env.TZ;
    else process.env.TZ = own;
  };
  const composedIn = (zone: string) => {
    process.env.TZ = zone;
    return [...composeHandover(readHandoverSource(dir), 'a4-65')];
  };

  test('are the same byte for byte wherever they are made', () => {
    const here = composedIn(OPENED_IN);
    const offset = new Date().getTimezoneOffset();
    for (const zone of ['UTC', 'Asia/Kolkata', 'Pacific/Auckland']) {
      expect(composedIn(zone)).toEqual(here);
      // A zone that took no effect would have shown nothing.
      expect(new Date().getTimezoneOffset()).not.toBe(offset);
    }
  });

  test('tell times as the wall showed them there, with the offset', () => {
    const documents = new Map(composedIn('UTC'));
    const records = [...readRecords(dir)];
    const last = new Date(records.at(-1)!.at);
    const wall = last.toLocaleString('sv-SE', { timeZone: OPENED_IN });
    expect(records[0]!.data.timeZone).toBe(OPENED_IN);
    expect(documents.get('handover.txt')).toMatch(new RegExp(`^Last record +${wall} -0[23]:30$`, 'm'));
    const { lastRecord, results } = JSON.parse(documents.get('handover.json')!);
    expect(new Date(lastRecord).getTime()).toBe(last.getTime());
    expect(lastRecord).toMatch(/-0[23]:30$/);
    for (const { record, at } of results)
      expect(new Date(at).getTime()).toBe(Date.parse(records[record]!.at));
    for (const line of documents.get('record.csv')!.split('\r\n').slice(1, -1))
      expect(line).toMatch(/^\d+,\d{4}-\d\d-\d\dT[\d:.]+-0[23]:30,/);
  });
});
