import { describe, expect, test } from 'vitest';
import { top } from '../../source/screens/app/state.ts';
import { drive, type Size, TO_DEAD } from './drive.ts';
import { STEPS, smallJob } from './small-job.ts';

/** The small job with a reading that may stand although it is not as expected. */
const LENIENT = STEPS.map((step) => ({
  ...step,
  proof: step.proof.map((proof) =>
    proof.kind === 'reading' ? { ...proof, usable: { min: 0, max: 5000 } } : proof,
  ),
}));

function measuring(steps = STEPS, size: Size = { columns: 80, rows: 24 }) {
  const job = smallJob(steps);
  const driven = drive(job, size);
  driven.press(...TO_DEAD);
  return { job, ...driven };
}

describe('a reading that fails', () => {
  test('stays on the screen with its value, and is read again first', () => {
    const { press, picture } = measuring();
    press(...'4400', 'enter');
    expect(picture()).toContain('Recorded, and it does not pass: read again first');
    expect(picture()).toMatch(/4400 ohm does not pass/);
    expect(picture()).toContain('It may be, the likeliest first:');
    press('1');
    expect(picture()).toContain('Lift white of c1');
    expect(picture()).not.toContain('4400');
  });

  test('with causes over several pages is not left by Enter before the last one', () => {
    const { store, press } = measuring(STEPS, { columns: 60, rows: 20 });
    press(...'4400', 'enter');
    const app = store.get();
    const screen = top(app);
    if (screen.kind !== 'diagnosis') throw new Error('no diagnosis');
    const causes = Array.from({ length: 9 }, () => screen.causes[0]!);
    const step = screen.step;
    const long = drive(smallJob(), { columns: 60, rows: 20 });
    long.press(...TO_DEAD);
    long.store.dispatch({
      type: 'acted',
      action: { do: 'confirm', step, values: {} },
      acted: { format: 'loopward/acted@1', outcome: 'failed', records: [1], causes, next: app.job!.next },
      job: app.job!,
    });
    const pages = Number(/page 1 of (\d+)/.exec(long.picture())?.[1]);
    expect(pages).toBeGreaterThan(1);
    for (let page = 2; page <= pages; page++) {
      long.press('enter');
      expect(long.picture()).toContain(`page ${page} of ${pages}: Enter turns`);
    }
    long.press('enter');
    expect(top(long.store.get()).kind).toBe('step');
  });
});

describe('a reading that is recorded though not as expected', () => {
  test('stays on the screen, and nothing goes on by itself', () => {
    const { job, press, picture } = measuring(LENIENT);
    press(...'4400', 'enter');
    expect(picture()).toContain('Recorded, and not as expected: read again first');
    expect(picture()).toMatch(/~ 4400 not as expected, usable/);
    press('enter', 'enter');
    expect(picture()).toContain('Press 1 to read again, or 2 to go on.');
    expect(job.acted.at(-1)?.do).toBe('confirm');
    press('2');
    expect(picture()).toContain('Open the boat-store shutter');
  });

  test('is read again at one key: its step is reopened and in hand', () => {
    const { job, press, picture } = measuring(LENIENT);
    press(...'4400', 'enter', '1');
    expect(job.acted).toContainEqual(expect.objectContaining({ do: 'reopen', step: 'measure.z1' }));
    expect(picture()).toContain('Lift white of c1');
    press(...'2190', 'enter');
    expect(picture()).toContain('Recorded: Lift white of c1');
  });

  test('never stands under a plain tick when one looks back', () => {
    const { press, picture } = measuring(LENIENT);
    press(...'4400', 'enter', '2', 'up');
    expect(picture()).toContain('~ done, and not as expected');
    expect(picture()).toMatch(/~ 4400 not as expected, usable/);
    expect(picture()).not.toContain('✓ done');
  });
});
