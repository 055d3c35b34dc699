import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { realSystem } from '../../source/journal/system.ts';
import { pick } from '../../source/rehearsal/technician/next-card.ts';
import { createStore } from '../../source/screens/app/store.ts';
import type { JobPort, Wrong } from '../../source/screens/port.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import type { Change } from '../../source/site/correct-survey.ts';
import { learnContact } from '../../source/site/found-contact.ts';
import { appOf, drive, keys, picture } from './drive.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-rehearsal-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Chance that a test holds: the seed of the building is 256 times the first byte and the second, and one. */
const seeded = (seed: number) => {
  const system = realSystem();
  const random = (bytes: number) =>
    bytes === 2 ? Uint8Array.of(Math.floor((seed - 1) / 256), (seed - 1) % 256) : system.random(bytes);
  return shelfOf(folder, { ...system, random });
};

function opened(wrong: Wrong, seed = 3): JobPort {
  const port = seeded(seed).openRehearsal(null, wrong);
  if (typeof port === 'string') throw new Error(port);
  port.act({ do: 'start-shift', name: 'Nadia', instrument: 'bench meter', zero: '0.3' });
  return port;
}

const CORRECT = /Correct the survey: (\S+): (.+)\.$/;
const FOUND = /Correct the survey: a contact that was found behind (\S+): (\S+), (.+) of cable from there\.$/;

/** What is said to be corrected, as a correction takes it; nothing where nothing is. */
function corrected(port: JobPort, line: string): readonly Change[] {
  const [, beside, kind = '', length = ''] = FOUND.exec(line) ?? [];
  const cable = { length, conductor: 'unknown' };
  if (beside !== undefined)
    return learnContact(port.look().plan.survey, { beside, name: 'Window', kind, cable }).changes;
  const [, path, value = ''] = CORRECT.exec(line) ?? [];
  return path === undefined ? [] : [{ path, value: value.startsWith('{') ? JSON.parse(value) : value }];
}

/** Works on a rehearsal by nothing but what its building answers; goes and looks wherever something does not fit. */
function work(
  port: JobPort,
  until: (found: readonly string[]) => boolean = () => false,
  correct = corrected,
): readonly string[] {
  const found: string[] = [];
  const tries = new Map<string, number>();
  for (let turn = 0; turn < 400 && !until(found); turn++) {
    const { next } = port.look();
    const step = next.closeNeeds.length === 0 ? null : pick(next, tries, false);
    if (step === null) {
      port.act({ do: 'close', signatures: [{ name: 'Nadia', role: 'installer' }] });
      break;
    }
    tries.set(step.id, (tries.get(step.id) ?? 0) + 1);
    const values = port.meter(step.id);
    const acknowledge = ['looks-like-a-code', 'typed-too-soon', 'wrong-multiple'];
    const acted = port.act({ do: 'confirm', step: step.id, values, acknowledge });
    if (!('outcome' in acted)) throw new Error(`${step.id}: ${JSON.stringify(acted).slice(0, 300)}`);
    if (acted.causes.length === 0) continue;
    const lines = port.search(step.id);
    if (lines[0] === 'Nothing is found behind it.') continue;
    found.push(`${step.id} ${lines.join(' ')}`);
    const set = lines.flatMap((line) => correct(port, line));
    if (set.length === 0) continue;
    port.act({ do: 'correct', reason: 'Found on the spot.', set });
    tries.clear();
  }
  return found;
}

describe('a rehearsal in the screens', () => {
  test('is worked to its end by what its meter answers, and tells what was found where', () => {
    const port = opened({ fault: 'contact-bridged' });
    expect(port.debrief()[0]).toBe('Still to be found: 1.');
    const found = work(port);
    expect(found.length).toBe(1);
    expect(port.look().next.closed).toBe(true);
    const step = found[0]!.split(' ')[0];
    expect(port.debrief()[0]).toBe(
      `contact-bridged, found at ${step}: Somebody bridged a contact, so that its door never reports.`,
    );
    expect(port.debrief().at(-1)).toMatch(/^Seed 3\. \d+ cards confirmed, \d+ min\.$/);
    port.close();
  });

  test('whose survey was wrong says what to correct, and goes on in the same building', () => {
    const port = opened({ fault: 'resistor-value-differs' }, 5);
    const [first, ...others] = work(port);
    expect(first).toMatch(CORRECT);
    expect(others).toEqual([]);
    expect(port.look().next.closed).toBe(true);
    port.close();
  });

  test('a contact that the survey does not know comes into it by a form, and is walked like all others', () => {
    const port = opened({ fault: 'hidden-detector' }, 4);
    const [first] = work(
      port,
      (found) => found.length > 0,
      () => [],
    );
    const [, beside = '', kind, length = ''] = FOUND.exec(first!)!;
    const { press, pick, picture: shown } = drive(port, { columns: 80, rows: 40 });
    press('1', 'tab');
    pick('menu-change');
    expect(shown()).toContain('a contact was found that it does not know');
    pick('found');
    press(...beside, 'enter', ...'Skylight', 'enter');
    expect(shown()).toContain(`1 ${kind}`);
    press('1', 'enter', ...length.replace(' m', ''), 'enter', '2', 'enter');
    expect(shown()).toMatch(/Steps that come new:.*walk\.found/s);
    press('enter');
    expect(shown()).toContain('The correction is adopted.');
    expect(work(port)).toEqual([]);
    expect(port.look().next.closed).toBe(true);
    expect(port.look().status['walk.found']).toBe('done');
    expect(port.look().plan.survey.detectors.at(-1)?.name).toBe('Skylight');
    port.close();
  });

  test('what is never looked for is missed, and named once the job is closed', () => {
    const port = opened({ drawn: 0 });
    work(port);
    expect(port.debrief()[0]).toBe('Nothing was wrong in this building.');
    port.close();
  });

  test('taken up again finds its building as it was left: what was done is done, what was found is found', () => {
    const port = opened({ fault: 'contact-bridged' });
    const [found] = work(port, (all) => all.length > 0);
    const before = port.look().next.open.map(({ id }) => [id, port.meter(id)]);
    const debrief = port.debrief().slice(0, -1);
    const { dir } = port;
    port.close();
    const again = shelfOf(folder, realSystem()).open(dir);
    if (typeof again === 'string') throw new Error(again);
    expect(again.debrief().slice(0, -1)).toEqual(debrief);
    for (const [id, values] of before) {
      const now = again.meter(id as string);
      if (Object.keys(now).length > 0) expect(now).toEqual(values);
    }
    expect(found).toContain(debrief[0]!.split(' ')[3]!.slice(0, -1));
    again.close();
  });

  test('the same seed draws the same faults, another seed others', () => {
    const faultsOf = (seed: number) => {
      const port = opened({ drawn: 3 }, seed);
      const found = work(port).length;
      const lines = port.debrief().slice(0, -1);
      port.close();
      return { found, names: lines.map((line) => line.split(',')[0]) };
    };
    const one = faultsOf(7);
    expect(one.names.length).toBe(3);
    expect(faultsOf(7)).toEqual(one);
    expect(faultsOf(8).names).not.toEqual(one.names);
  });

  test('of any job: on its own survey, beside it', () => {
    const shelf = seeded(5);
    const job = shelf.openDemo();
    if (typeof job === 'string') throw new Error(job);
    const { dir } = job;
    job.act({ do: 'start-shift', name: 'Nadia', instrument: 'bench meter' });
    job.act({
      do: 'correct',
      reason: 'Read off the part.',
      set: [{ path: 'zones.z2.loop.resistor', value: '4k7' }],
    });
    job.close();
    const port = shelf.openRehearsal(dir, { drawn: 1 });
    if (typeof port === 'string') throw new Error(port);
    expect(port.look().rehearsal).toBe(true);
    expect(port.look().plan.survey.zones.find(({ id }) => id === 'z2')?.loop.resistorOhms).toBe(4700);
    port.close();
  });
});

describe('the screen before a rehearsal', () => {
  test('offers faults by chance or by choice; the building answers, is searched and told of by key', () => {
    const store = createStore(appOf({ columns: 80, rows: 40 }), {
      shelf: seeded(3),
      saveSettings: () => {},
    });
    const press = (...labels: readonly string[]) => {
      for (const key of keys(...labels)) store.keys([key]);
    };
    store.dispatch({ type: 'picked', value: 'rehearse' });
    expect(picture(store)).toContain('Two things are wrong, drawn by chance');
    store.dispatch({ type: 'picked', value: 'fault cable-cut' });
    expect(picture(store)).toContain('REHEARSAL');
    press('1', ...'Nadia', 'enter', '1', 'enter', ...'0.3', 'enter', 'm');
    expect(store.get().notice?.says).toBe('In this building: 1 Installer, qualified for this work here.');
    store.dispatch({ type: 'picked', value: 'menu-look' });
    press('tab');
    store.dispatch({ type: 'picked', value: 'menu-look' });
    store.dispatch({ type: 'picked', value: 'debrief' });
    expect(store.get().notice?.more[0]).toBe('Still to be found: 1.');
    store.close();
  });
});
