import { expect, test } from 'vitest';
import type { Procedure } from '../../source/procedure/step.ts';
import { report } from '../scale.ts';
import { eventsOf, type Repertoire, STOPS_MET } from './explore.ts';
import { catchMutant, mutantsOf, reachable } from './mutants.ts';
import { SMALL } from './small-procedure.ts';

const named =
  (...ids: string[]) =>
  (step: { id: string }) =>
    ids.includes(step.id);

/** What is needed to come to every gate once; the orders themselves are explored elsewhere. */
const SHORT: Repertoire = {
  stops: STOPS_MET,
  begins: named('measure.z1', 'power.interim'),
  fails: named('measure.z1', 'split.z1', 'clear.voltage', 'cold.voltage', 'walk.shutter'),
  reopens: named(
    'life-safety.decision',
    'prepare.adapter.b1',
    'isolate.battery',
    'label.c1',
    'rewire.z1',
    'supply.isolate',
  ),
};

/** Two gates speak only where the plan itself is not whole. */
const BASES: Readonly<Record<string, Procedure>> = {
  'plan-blocked': { ...SMALL, blocked: true },
  'survey-incomplete': { ...SMALL, incomplete: true },
};

test('every gate, edge, need and hard step of the small job is needed: without it something else is let through', {
  timeout: 300_000,
}, () => {
  const events = eventsOf(SMALL, SHORT);
  const states = reachable(SMALL, events);
  const table = mutantsOf(SMALL).map((mutant) => {
    const base = BASES[mutant.what] ?? SMALL;
    const procedure = base === SMALL ? mutant.procedure : base;
    return {
      kind: mutant.kind,
      what: mutant.what,
      ...catchMutant(base, { ...mutant, procedure }, states, events),
    };
  });
  report(
    `Mutation check of the small job (${states.length} states)`,
    table.map(({ kind, what, lets, invariant }) => ({
      kind,
      what,
      'lets through': lets ?? 'NOTHING',
      breaks: invariant === null ? 'pinned figures' : `invariant ${invariant}`,
    })),
  );
  expect(table.filter((row) => row.lets === null)).toEqual([]);
});
