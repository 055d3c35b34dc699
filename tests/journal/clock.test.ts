import { describe, expect, test } from 'vitest';
import { Journal } from '../../source/journal/journal.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { MemoryDisk } from './memory-disk.ts';
import { DIR } from './sample.ts';
import { Clocks, fakeSystem } from './world.ts';

const HOUR = 3_600_000;

function started() {
  const disk = new MemoryDisk();
  const clocks = new Clocks();
  const system = fakeSystem(disk, clocks);
  return { disk, clocks, system, journal: Journal.create(DIR, { job: 'hsc-7' }, system) };
}

describe('the clock', () => {
  test('set back, on by days or to 1970: recorded before the next record, order and chain untouched', () => {
    const { disk, clocks, journal } = started();
    const told: unknown[] = [];
    journal.onClock = (record) => told.push(record.data.jump);
    for (const jump of [-HOUR, 72 * HOUR, -clocks.wall, 40 * 365 * 24 * HOUR]) {
      clocks.wall += jump;
      clocks.pass(500);
      journal.append('act', {});
    }
    const records = [...journal.records()];
    expect(records.map(({ kind }) => kind)).toEqual(['open', ...Array(4).fill(['clock', 'act'])].flat());
    expect(records.map(({ n }) => n)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
    expect(told).toHaveLength(4);
    expect(told[0]).toBe(-HOUR);
    expect(records[1]!.data).toMatchObject({ looksLike: 'clock-set', jump: -HOUR });
    expect(verifyJournal(DIR, { files: disk }).outcome).toBe('open');
  });

  test('noticed by itself before an action is judged', () => {
    const { clocks, journal } = started();
    expect(journal.noticeClock()).toBeNull();
    clocks.wall += HOUR;
    expect(journal.noticeClock()?.kind).toBe('clock');
    expect(journal.noticeClock()).toBeNull();
    journal.append('act', {});
    expect(journal.head.count).toBe(3);
  });

  test('a sleep of the computer is told from a clock that was set', () => {
    const { clocks, journal } = started();
    clocks.wall += HOUR;
    clocks.uptime += HOUR;
    expect(journal.noticeClock()?.data).toMatchObject({ looksLike: 'sleep', jump: HOUR });
  });

  test('running on, or slewed by less than two seconds: nothing is recorded', () => {
    const { clocks, journal } = started();
    for (let i = 0; i < 20; i += 1) {
      clocks.pass(HOUR);
      clocks.wall += i % 2 === 0 ? 1_900 : -1_900;
      journal.append('act', {});
    }
    expect([...journal.records()].filter(({ kind }) => kind === 'clock')).toEqual([]);
  });

  test('set between two programs: the second one notices', () => {
    const { clocks, system, journal } = started();
    journal.close();
    clocks.pass(HOUR);
    clocks.wall -= 2 * HOUR;
    clocks.mono = 3;
    const again = Journal.open(DIR, system);
    again.append('act', {});
    const [, clock] = [...again.records()];
    expect(clock).toMatchObject({ kind: 'clock', data: { looksLike: 'clock-set' } });
    expect(Math.abs(Number(clock!.data.jump) + 2 * HOUR)).toBeLessThan(100);
    again.close();
    const third = Journal.open(DIR, system);
    third.append('act', {});
    expect(third.head.count).toBe(4);
  });

  test('after a restart of the computer: a step back is seen, a step on cannot be', () => {
    const { clocks, system, journal } = started();
    journal.close();
    clocks.boot = 'boot-2';
    clocks.uptime = 10_000;
    clocks.wall -= HOUR;
    const again = Journal.open(DIR, system);
    expect(again.noticeClock()?.data).toMatchObject({ looksLike: 'clock-set' });
    again.close();
    clocks.boot = 'boot-3';
    clocks.wall += 99 * HOUR;
    expect(Journal.open(DIR, system).noticeClock()).toBeNull();
  });
});
