import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import type { Step } from '../../source/procedure/step.ts';
import { BLANK, checkAnswer } from '../../source/screens/entry/answer.ts';
import { type Field, fieldsOf, valuesOf } from '../../source/screens/entry/field.ts';
import { answersOf, isAskedAt, newEntry } from '../../source/screens/entry/state.ts';
import { answersTo } from '../drive.ts';
import { demoPlan } from '../procedure/demo-plan.ts';

const { steps } = buildProcedure(demoPlan());

/** The answers of a good card, by the fields that the screens ask. */
function goodAnswers(step: Step): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(answersTo(step)).flatMap(([field, value]) =>
      typeof value === 'object'
        ? Object.entries(value).map(([part, said]) => [`${field}.${part}`, String(said)])
        : [[field, String(value)]],
    ),
  );
}

/** Answers that do not fit a field: what does not pass, what is far too much, what is nothing. */
function badAnswers(field: Field): readonly string[] {
  switch (field.kind) {
    case 'choice':
      return field.options.filter(({ leads }) => leads === 'fail').map(({ id }) => id);
    case 'reading':
      return field.quantity === 'ohms' ? ['0', 'OL'] : ['138', '30', '-9', '0'];
    case 'count':
      return ['0'];
    case 'text':
      return checkAnswer(field, { ...BLANK, typed: '0' }) === null ? ['0'] : [];
  }
}

/** A card answered field by field as the screens ask it, badly in one place. */
function answeredWith(step: Step, fields: readonly Field[], at: string, bad: string) {
  const good = goodAnswers(step);
  const said: Record<string, string> = {};
  for (;;) {
    const entry = newEntry(fields, said);
    const next = fields.findIndex(({ id }, index) => said[id] === undefined && isAskedAt(entry, index));
    if (next < 0) return answersOf(entry);
    const { id } = fields[next]!;
    said[id] = id === at ? bad : (good[id] ?? '1');
    // What was met was met somewhere.
    if (id.endsWith('.at') && id === `${at.replace(/\.greatest$/, '')}.at`) said[id] = pointOf(fields[next]!);
  }
}

const pointOf = (field: Field) => (field.kind === 'choice' ? field.options[0]!.id : '');

describe('what the screens ask of a card is what its record needs', () => {
  const cases = steps.flatMap((step) => {
    const fields = fieldsOf(step.proof);
    return step.proof.length === 0
      ? []
      : fields.flatMap((field) => badAnswers(field).map((bad) => ({ step, fields, at: field.id, bad })));
  });

  test('every answer that does not fit can be recorded, by itself, at every card of the demo', () => {
    expect(cases.length).toBeGreaterThan(300);
    const unrecorded = cases.flatMap(({ step, fields, at, bad }) => {
      const values = valuesOf(step.proof, answeredWith(step, fields, at, bad));
      const judged = judgeProof(step, values);
      return judged.ok
        ? []
        : [`${step.id} ${at} ${bad}: ${judged.problems.map(({ says }) => says).join(' ')}`];
    });
    expect(unrecorded).toEqual([]);
  });

  test('beyond 50 V nothing more is asked than where, and how many points were touched', () => {
    const volts = cases.filter(({ bad }) => bad === '138');
    expect(volts.length).toBeGreaterThan(20);
    for (const { step, fields, at, bad } of volts) {
      const said = answeredWith(step, fields, at, bad);
      if (said[at] !== bad) continue;
      const index = fields.findIndex(({ id }) => id === at);
      const after = fields.slice(index + 1).filter(({ id }) => said[id] !== '');
      const isPart = (id: string) => id.startsWith(`${at.replace(/\.greatest$/, '')}.`);
      expect(
        after.filter(({ id }) => !isPart(id)),
        `${step.id} ${at}`,
      ).toEqual([]);
    }
  });
});
