import { describe, expect, test } from 'vitest';
import type { Proof, SweepProof } from '../../source/procedure/step.ts';
import { roomOf } from '../../source/screens/app/composed.ts';
import type { OpenJob } from '../../source/screens/app/state.ts';
import { plain, widthOf } from '../../source/screens/draw/line.ts';
import { fieldsOf } from '../../source/screens/entry/field.ts';
import { newEntry } from '../../source/screens/entry/state.ts';
import { viewEntry } from '../../source/screens/entry/view.ts';
import { askedProofs } from '../../source/screens/step/asked-proofs.ts';
import { tourLines } from '../../source/screens/step/tour.ts';
import { appOf, drive, SHIFT, TO_DEAD } from './drive.ts';
import { RESTING, SMALL_PLAN, STEPS, smallJob } from './small-job.ts';

/** The plan writes a conductor's screw by its bare name. */
const PLAN = {
  ...SMALL_PLAN,
  wiring: {
    ...SMALL_PLAN.wiring,
    conductors: SMALL_PLAN.wiring.conductors.map((one) => ({
      ...one,
      screw: one.screw?.replace('old:', '') ?? null,
    })),
  },
};
const JOB = { plan: PLAN } as unknown as OpenJob;
const asked = (proof: Proof, about: readonly string[]) => askedProofs(JOB, { about, proof: [proof] })[0]!;
const SWEEP = STEPS.find((step) => step.id === 'supply.prove')!.proof[0] as SweepProof;

describe('what a reading is asked with', () => {
  test('is its zone by id and name, wherever the step is about several', () => {
    expect(asked(RESTING, ['z1', 'z2']).label).toMatch(/^z1 Boat store: white of c1/);
    const lifted: Proof = { ...RESTING, between: ['c1/1', 'old:9'] };
    expect(asked(lifted, ['z1']).label).toMatch(/^z1 Boat store: /);
  });

  test('is where the probes go, where its words do not say so', () => {
    const aux: Proof = { ...RESTING, of: 'volts-dc', label: 'Aux output', between: ['old:5', 'old:6'] };
    expect(asked(aux, []).label).toBe('Aux output, red probe on screw 5, black on screw 6');
    expect(asked({ ...aux, label: 'screw 5 to screw 6' }, []).label).toBe('screw 5 to screw 6');
  });
});

describe('a sweep', () => {
  const points = ['c2/1', 'old:10', 'old:9', 'c1/2', 'b1:A+', 'old:2', 'c1/1'];

  test('asks in the order of the screws, each before its wires', () => {
    const sweep = asked({ ...SWEEP, points }, []);
    expect(sweep.kind === 'sweep' && sweep.points).toEqual([
      'old:2',
      'c1/1',
      'old:9',
      'c1/2',
      'c2/1',
      'old:10',
      'b1:A+',
    ]);
  });

  test('is laid out as a tour', () => {
    const lines = tourLines(JOB, { ...SWEEP, points }, roomOf(appOf({ columns: 80, rows: 24 })));
    expect(lines.map(plain).join(' ')).toMatch(
      /Tour of 7 points.*2 {2}8 \(c1\/1 white\) {2}9 \(c1\/2 brown\) {2}10 \(c2\/1 red\).*then {2}b1 A\+/,
    );
  });

  test('of many points shows them in columns, and on the least screen as many as fit', () => {
    const many = { ...SWEEP, points: Array.from({ length: 48 }, (_, index) => `old:${index + 1}`) };
    const fields = fieldsOf([many]);
    const entry = newEntry(fields, { [`${many.field}.greatest`]: '0.01' });
    for (const columns of [60, 80, 120]) {
      const room = roomOf(appOf({ columns, rows: 20 }));
      const { lines } = viewEntry(entry, room, 12);
      expect(lines.length).toBeLessThanOrEqual(14);
      const shown = lines.map(plain).filter((row) => / \d+ screw \d/.test(row));
      for (const row of shown) expect(widthOf(row)).toBeLessThanOrEqual(columns);
      expect(lines.map(plain).join('\n')).toMatch(/ 1 screw 1 .* screw \d+/);
    }
  });
});

test('the picture is about what is asked for, far screws beside each other with a mark between', () => {
  const far: Proof = { ...RESTING, between: ['old:8', 'old:22'], field: 'far' };
  const steps = STEPS.map((step) => (step.id === 'measure.z1' ? { ...step, acts: [], proof: [far] } : step));
  const { press, picture } = drive(smallJob(steps), { columns: 60, rows: 40 });
  press(...TO_DEAD);
  const row = picture()
    .split('\n')
    .find((one) => one.startsWith('old panel'));
  expect(row).toContain('8');
  expect(row).toContain('22');
});

test('agreeing the plan shows its verdict and what is to be minded, and a key opens it', () => {
  const agree = { ...STEPS[0]!, id: 'plan.accept', stage: 'plan' as const, title: 'Agree the plan' };
  const { press, picture } = drive(smallJob([agree]), { columns: 100, rows: 40 });
  press(...SHIFT);
  expect(picture()).toContain('The boards can take this site, with the cautions below.');
  expect(picture()).toContain('The battery holds 9.1 h where 12 h are asked for.');
  expect(picture()).not.toContain('battery-too-small');
});
