import { describe, expect, test } from 'vitest';
import { inputSheet } from '../../source/plan/input-sheet.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { randomSurvey } from '../random-survey.ts';
import { scale } from '../scale.ts';

const SITES = scale(1000, 0.1);

describe(`the input sheet of ${SITES} random sites (seeds from 0)`, () => {
  const sites = Array.from({ length: SITES }, (_, seed) => {
    const { survey, boards } = randomSurvey(seed, { fits: true });
    const plan = planChangeover(survey, boards);
    return { seed, plan, rows: inputSheet(plan) };
  });

  test('has every input of every board once, and each circuit of the plan on its own', () => {
    for (const { seed, plan, rows } of sites) {
      const ids = rows.map(({ board, input }) => `${board}/${input}`);
      expect(ids, `seed ${seed}`).toEqual(
        plan.boards.flatMap((board) => board.inputs.map(({ id }) => `${board.id}/${id}`)),
      );
      for (const { board, input, detectors, contact } of plan.circuits) {
        const row = rows.find((one) => one.board === board && one.input === input);
        expect(
          row?.detectors.map(({ id }) => id),
          `seed ${seed}`,
        ).toEqual([...detectors]);
        expect(row?.contact).toBe(contact);
      }
    }
  });

  test('gives each used input a name that no other has, and none to the others', () => {
    for (const { seed, plan, rows } of sites) {
      const names = rows.map(({ name }) => name).filter((name) => name !== '');
      expect(new Set(names).size, `seed ${seed}`).toBe(names.length);
      expect(names.length, `seed ${seed}`).toBe(plan.circuits.length);
    }
  });

  // What an input must expect lies in the window that it takes for rest: a bare loop, or the resistor it supervises by.
  test('the resistor and the sense agree with the window that the plan gives the input', () => {
    let supervised = 0;
    for (const { seed, plan, rows } of sites) {
      for (const circuit of plan.circuits) {
        const row = rows.find((one) => one.board === circuit.board && one.input === circuit.input)!;
        const { expected, usable } = circuit.rest;
        const says = `seed ${seed}, ${circuit.board}/${circuit.input}`;
        if (row.resistorOhms !== null && usable !== null) {
          supervised++;
          expect(row.resistorOhms, says).toBeGreaterThan(usable.min);
          expect(row.resistorOhms, says).toBeLessThan(usable.max);
        }
        if (row.resistorOhms === null && circuit.contact !== 'unknown' && circuit.purpose === 'detection')
          expect(row.rest, says).toBe(expected === 'open' ? 'open' : 'closed');
      }
    }
    expect(supervised).toBeGreaterThan(0);
  });
});
