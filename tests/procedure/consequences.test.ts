import { expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { AS_FOUND } from '../../source/procedure/present.ts';
import type { ChoiceProof, Procedure } from '../../source/procedure/step.ts';
import { demoPlan } from './demo-plan.ts';

const choicesOf = (procedure: Procedure) =>
  procedure.steps.flatMap((step) => step.proof.filter((proof) => proof.kind === 'choice'));
const plugged = buildProcedure(demoPlan());
const mainsFed = buildProcedure(
  demoPlan((text) => text.replace('feed: plug-in-transformer', 'feed: mains-in-enclosure')),
);
const failing = (choices: readonly ChoiceProof[]) =>
  choices.flatMap(({ label, options }) =>
    options.filter((option) => option.leads === 'fail').map(({ id, follows }) => ({ label, id, follows })),
  );

test('every answer that does not pass says what follows from it, and never to read again what was not measured', () => {
  const all = failing([...choicesOf(plugged), ...choicesOf(mainsFed), AS_FOUND]);
  expect(all.length).toBeGreaterThan(100);
  for (const { label, id, follows } of all) {
    expect(follows, `${label}: ${id}`).toMatch(/^[A-Z].{20,}\.$/);
    expect(follows, `${label}: ${id}`).not.toMatch(/zero the|leads and read/i);
  }
});

test('what follows is told of each answer by itself: few share a sentence', () => {
  const own = failing(choicesOf(plugged)).filter(({ id }) => id !== 'cannot' && id !== 'not-sure');
  const shared = own.filter(({ follows }) =>
    /What waits for this stays shut\. Put it right/.test(follows ?? ''),
  );
  expect(shared).toEqual([]);
});

test('where mains may be, what follows names the electrician and the lid', () => {
  const { follows } = failing(choicesOf(mainsFed)).find(({ id }) => id === 'not-yet')!;
  expect(follows).toMatch(/lid stays shut.*licensed electrician isolates, proves and signs/);
});

test('a step that was reopened is not called one that was never finished', () => {
  expect(AS_FOUND.label).not.toMatch(/never|finished|begun/);
});
