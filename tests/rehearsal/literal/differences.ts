import type { OpenStep } from '../../../source/job/action.ts';
import { asLeft } from '../../../source/job/as-left.ts';
import type { Job } from '../../../source/job/job.ts';
import { Replay } from '../../../source/job/replay.ts';
import { readRecords } from '../../../source/journal/read.ts';
import { planChangeover } from '../../../source/plan/plan-changeover.ts';
import type { Building } from '../../../source/rehearsal/building/building.ts';
import { seededRandom } from '../../../source/rehearsal/building/random.ts';
import { sounding } from '../../../source/rehearsal/building/sounders.ts';
import type { Literal } from '../../../source/rehearsal/technician/literal.ts';
import type { Visit } from '../../../source/rehearsal/technician/visit.ts';
import { placesOf } from '../../random-site/drawn/called.ts';
import type { DrawnOptions } from '../../random-site/drawn/drawing.ts';
import { drawSite } from '../../random-site/drawn/drawn-site.ts';
import { withJob } from '../run-rehearsal.ts';
import { portOf } from '../trial.ts';
import { compareWithPlan, compareWithRecord } from './as-left.ts';
import { findUnproved } from './proved.ts';
import { carryOutLiterally } from './run-literal.ts';

/** Something that is otherwise than a card or the plan says. `category` leaves out which wire, zone or board it was. */
export type Difference = { readonly category: string; readonly says: string };

export type Walked = {
  readonly differences: readonly Difference[];
  readonly slips: readonly string[];
  readonly closed: boolean;
  readonly cards: number;
  readonly readings: number;
  readonly acts: number;
};

/**
 * A drawn site changed over by somebody literal. Null where the plan is blocked.
 *
 * @param read how he reads each card: as it is, unless a check wants to be checked
 */
export function walkDrawn(
  seed: number,
  options: DrawnOptions = { unknowns: false },
  read: (step: OpenStep) => OpenStep = (step) => step,
  leavesOut: (step: OpenStep) => ReadonlySet<number> = () => new Set(),
): Walked | null {
  const { building, text, boards } = drawSite(seed, options);
  return withJob({ text, boards }, (job, scene) => {
    const { called, misread } = placesOf(scene.wiring, building);
    const visit: Visit = {
      scene,
      building,
      faults: [],
      random: seededRandom(seed, 'visit'),
      seconds: 0,
      soundersPutBack: new Set(),
    };
    const literal: Literal = { visit, called, troubles: [], deeds: [] };
    const run = carryOutLiterally(portOf(job), literal, read, leavesOut);
    const differences: Difference[] = [
      ...(options.unknowns ? [] : misread).map((says) => ({ category: 'misread', says })),
      ...run.odd.map(({ step, field, value, says }) => ({
        category: `reading ${cardOf(step)} ${kindOf(field)}`,
        says: `${step} ${field}: ${value} beside ${says}`,
      })),
      ...literal.troubles.map(({ step, kind, says }) => ({
        category: `${kind} ${cardOf(step)} ${withoutIds(says)}`,
        says: `${step}: ${says}`,
      })),
      ...findUnproved(literal.deeds).map(({ step, how, node }) => ({
        category: `unproved ${cardOf(step)} ${how}`,
        says: `${step}: ${node}`,
      })),
      ...visit.building.harm.map(({ says }) => ({ category: `harm ${withoutIds(says)}`, says })),
      ...[...run.stuck, ...run.refused].map((says) => ({ category: `stuck ${cardOf(says)}`, says })),
      ...(run.closed ? besideRecord(job, visit.building, called) : []),
      // A plan says nothing of what was left out.
      ...(run.closed && run.slips.length === 0 ? atTheEnd(scene, building, visit.building, called) : []),
    ];
    const acts = literal.deeds.filter(({ kind }) => kind === 'act').length;
    return {
      differences,
      slips: run.slips,
      closed: run.closed,
      cards: run.cards,
      readings: run.readings,
      acts,
    };
  });
}

function besideRecord(job: Job, now: Building, called: Literal['called']): Difference[] {
  const replay = new Replay();
  for (const record of readRecords(job.dir)) replay.take(record);
  const left = asLeft(replay);
  if (left === null) return [{ category: 'record none', says: 'the record says nothing of the wiring' }];
  return compareWithRecord(left.wiring, now, called).map(({ item, paper, building }) => ({
    category: `record ${withoutIds(paper)}`,
    says: `${item}: by the record ${paper}, in the building ${building}`,
  }));
}

function atTheEnd(
  scene: Visit['scene'],
  found: Building,
  now: Building,
  called: Literal['called'],
): Difference[] {
  const plan = planChangeover(scene.survey, scene.boards);
  return [
    ...compareWithPlan(plan, found, now, called).map(({ item, paper, building }) => ({
      category: `end ${withoutIds(paper)}`,
      says: `${item}: by the plan ${paper}, in the building ${building}`,
    })),
    ...sounding(now).map((id) => {
      const sounder = now.sounders.find((one) => one.id === id)!;
      return { category: `loud ${sounder.sense}`, says: `${id} sounds with every output at rest` };
    }),
  ];
}

/** The card without what it is about: `measure.z3` is `measure`, `clear.sounder.s1` is `clear.sounder`. */
function cardOf(step: string): string {
  const parts = (step.split(/[:\s]/)[0] ?? '').split('.');
  return parts.filter((part) => !/\d/.test(part)).join('.');
}

const kindOf = (field: string) =>
  field
    .replace(/\b(\w*\d[\w/]*|lid)\b/g, '')
    .replace(/[-.]+/g, ' ')
    .trim();

/** What is said, with no wire, zone, screw or board in it. */
const withoutIds = (says: string) =>
  says
    .replace(/\b(lifted:)?(old|join|joint|post|splice|b\d+)\b[: ][\w.:/+-]+/g, '…')
    .replace(/\b[a-z]\d+([./-][\w.-]+)*/g, '…')
    .replace(/\b\d+(\.\d+)?\b/g, '…')
    .replace(/…( in| out| resistor|, …)*/g, '…');
