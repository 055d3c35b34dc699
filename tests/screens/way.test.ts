import { describe, expect, test } from 'vitest';
import { NO_JOBS, top } from '../../source/screens/app/state.ts';
import { itemsOf } from '../../source/screens/menu/screen.ts';
import { CASES, caseAt } from './cases.ts';
import { drive, SHIFT, type Size, TO_DEAD, TO_PROOF } from './drive.ts';
import { STEPS, smallJob } from './small-job.ts';

const NARROW: Size = { columns: 60, rows: 20 };

function at(pressed: readonly string[], size?: Size, steps = STEPS) {
  const job = smallJob(steps);
  const driven = drive(job, size);
  driven.press(...pressed);
  return { job, ...driven };
}

describe('the menu', () => {
  test('keeps its numbers, whatever can be had now', () => {
    const live = at(SHIFT).store.get();
    const dead = at(TO_DEAD).store.get();
    for (const menu of ['menu', 'menu-help', 'menu-stop', 'menu-look', 'menu-change'])
      expect(itemsOf(dead, menu)).toEqual(itemsOf(live, menu));
  });

  test('says what cannot be had now, and does not do it', () => {
    const { job, press, pick, picture } = at(SHIFT);
    press('tab');
    expect(picture()).toContain('I doubt that it is dead (not now)');
    pick('doubt');
    expect(picture()).toContain('That cannot be done now.');
    expect(job.acted.map((action) => action.do)).not.toContain('doubt');
  });

  test('leads to reading a step again, which is then in hand', () => {
    const { job, press, pick, picture } = at([...TO_DEAD, ...'2190', 'enter']);
    press('left');
    expect(picture()).toContain('Read a step again that was done');
    pick('redo');
    expect(picture()).toContain('Which step is to be read, or done, again?');
    expect(picture()).toMatch(/› ✓ Lift white of c1/);
    press('enter', '1', 'enter');
    expect(job.acted).toContainEqual(expect.objectContaining({ do: 'reopen', step: 'measure.z1' }));
    expect(picture()).toMatch(/Lift white of c1[\s\S]*expected 2\.08/);
  });
});

describe('keys that do what they say', () => {
  test('the help lists what works on the screen it was asked from, each key once', () => {
    for (const name of ['step-reading', 'step-text', 'briefing', 'history', 'jobs', 'menu'] as const) {
      const driven = caseAt(name, { columns: 120, rows: 60 });
      driven.store.dispatch({ type: 'key', key: { name: 'char', char: '?', pasted: false } });
      if (top(driven.store.get()).kind !== 'help') continue;
      const rows = driven
        .picture()
        .split('\n')
        .filter((row) => /^\S.* {2,}\S/.test(row));
      const listed = rows.flatMap((row) =>
        row
          .slice(0, 20)
          .trim()
          .split(/, | or | /),
      );
      expect(new Set(listed).size).toBe(listed.length);
    }
    const step = at([...TO_PROOF, '?'], { columns: 120, rows: 60 }).picture();
    expect(step).not.toContain('close the job');
    expect(step).not.toContain('rehearsal');
    expect(step).not.toContain('doubt that it is dead');
  });

  test('help can be had on the first screen and where the job stands', () => {
    for (const name of ['jobs', 'briefing'] as const) {
      const { press, picture } = caseAt(name, NARROW);
      expect(picture()).toContain('? all keys');
      press('?');
      expect(picture()).toContain('keys of the screen you came from');
    }
  });

  test('Enter where somebody has to be named is answered', () => {
    const { press, store, picture } = at(TO_PROOF);
    store.dispatch({ type: 'jobs', jobs: NO_JOBS, surveys: [] });
    store.dispatch({ type: 'picked', value: 'demo' });
    expect(picture()).toContain('1 it is the same person');
    press('enter');
    expect(picture()).toContain('Press 1 where it is the same person');
  });

  test('whether the record is whole is told on the list of it', () => {
    const { press, picture } = at([...TO_DEAD, 'h', '6']);
    expect(picture()).toContain('The record is whole as far as it goes.');
    press('escape');
    expect(picture()).toContain('Lift white of c1');
  });

  test('nothing is offered that leads nowhere: looking back from the first step, pages where there is one', () => {
    const first = at([...SHIFT, '?'], { columns: 120, rows: 60 }).picture();
    expect(first).not.toContain('look back');
    expect(first).not.toContain('next page');
  });

  test('Down in a reading goes nowhere; ahead is looked with a letter, past proofs that nothing asks for', () => {
    const asked = STEPS.flatMap((step) =>
      step.id === 'walk.shutter'
        ? [{ ...step, id: 'supply.prove-short', title: 'Prove dead again, short', repeatable: true }, step]
        : [step],
    );
    const { press, picture } = at(TO_DEAD, undefined, asked);
    const before = picture();
    press('down');
    expect(picture()).toBe(before);
    press('a');
    expect(picture()).toContain('Open the boat-store shutter');
    press('up');
    expect(picture()).not.toContain('Looking at');
  });

  test('Esc leaves a step that was gone to, for the one that is next', () => {
    const parallel = STEPS.map((step) =>
      step.id === 'walk.shutter' ? { ...step, waitsFor: ['supply.prove'] } : step,
    );
    const { press, picture } = at([...TO_DEAD, 's', 'down', 'enter'], undefined, parallel);
    expect(picture()).toContain('Open the boat-store shutter');
    expect(picture()).toContain('Esc to the step that is next');
    press('escape');
    expect(picture()).toContain('Lift white of c1');
    expect(picture()).not.toContain('Esc to the step that is next');
  });

  test('Enter with nothing typed either turns the page or says what is missing', () => {
    const { press, picture } = at(TO_DEAD);
    press('enter');
    expect(picture()).toContain('Type what the meter shows.');
    const why = 'A long reason. '.repeat(80);
    const long = at(
      TO_DEAD,
      NARROW,
      STEPS.map((step) => ({ ...step, why })),
    );
    expect(long.picture()).toContain('page 1 of');
    long.press('enter');
    expect(long.picture()).toContain('page 2 of');
    expect(long.picture()).not.toContain('Type what the meter shows.');
  });
});

describe('at the least size', () => {
  test.each(Object.keys(CASES))('the screen %s shows its keys, and the one that leads out', (name) => {
    const rows = caseAt(name, NARROW).picture().split('\n');
    const foot = rows.slice(-2).join('  ');
    expect(foot).toMatch(/Enter|Esc|all keys|Tab/);
    expect(foot).toMatch(/back|leave|jobs|all keys|more|erase|stop/);
  });

  test('the supply state is said whole', () => {
    expect(caseAt('doubt', NARROW).picture()).toContain('[ NOT PROVED DEAD ]');
  });
});
