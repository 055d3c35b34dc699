import type { Asked, Guard } from './guards.ts';
import { isSettled } from './lookup.ts';
import type { Step } from './step.ts';

const titles = (steps: readonly Step[]) => steps.map((step) => `${step.title} (${step.id})`).join('; ');

const unsettled = ({ procedure, state }: Asked) =>
  procedure.steps.filter((step) => !step.repeatable && !isSettled(state.context.status[step.id]));

const statusOf = ({ state }: Asked, step: Step) => state.context.status[step.id] ?? 'open';

const openImpairment = (asked: Asked) => unsettled(asked).filter((step) => step.id === 'impairment.restore');
const openHard = (asked: Asked) =>
  unsettled(asked).filter((step) => step.hard && step.id !== 'impairment.restore');
const untested = (asked: Asked) =>
  unsettled(asked).filter((step) => !step.hard && step.stage === 'walk-test');
const centreOpen = (asked: Asked) => unsettled(asked).filter((step) => step.id === 'centre.end');
/** What no gate of its own asks for: steps that may be given up with a reason, but not without a word. */
const others = (asked: Asked) =>
  unsettled(asked).filter(({ hard, stage, id }) => !hard && stage !== 'walk-test' && id !== 'centre.end');
const halfWay = (asked: Asked) =>
  others(asked).filter((step) => ['begun', 'unknown', 'failed'].includes(statusOf(asked, step)));
const leftOut = (asked: Asked) => others(asked).filter((step) => statusOf(asked, step) === 'open');

/** What keeps a job from being closed: the same list that `next` shows as what closing needs. */
export const closeGuards: readonly Guard[] = [
  {
    code: 'survey-incomplete',
    on: ['close'],
    rule: 'CLC/TS 50131-7 (2010, from memory) 10.6: the documentation is complete',
    applies: ({ procedure }) => procedure.incomplete,
    says: () => 'Only the outside has been surveyed. Complete the survey by a correction.',
  },
  {
    code: 'impairment-open',
    on: ['close'],
    rule: 'NFPA 72-2016 10.20, 14.2.2.2: an impairment is recorded until the protection is restored; IFC 901.7',
    applies: (asked) => openImpairment(asked).length > 0,
    says: () =>
      'The impairment of a life-safety circuit is still open. Record who restored the protection, and when.',
  },
  {
    code: 'hard-step-open',
    on: ['close'],
    rule: '29 CFR 1910.147(e); CLC/TS 50131-7 (2010, from memory) 10.2: functional tests are recorded before completion',
    applies: (asked) => openHard(asked).length > 0,
    says: (asked) => `Not done, and not to be given up: ${titles(openHard(asked))}.`,
  },
  {
    code: 'untested',
    on: ['close'],
    rule: 'UFGS 13702N: each sensor, each zone, then the whole, end to end',
    applies: (asked) => untested(asked).length > 0,
    says: (asked) => `Untested: ${titles(untested(asked))}. Test it, or deviate with the residual risk.`,
  },
  {
    code: 'centre-open',
    on: ['close'],
    rule: 'ANSI/SIA CP-01-2019 and BS 8473:2006: who took the site off test, or cancelled, is recorded by name',
    applies: (asked) => centreOpen(asked).length > 0,
    says: () =>
      'The receiving centre is neither off test, cancelled nor found not to exist. Say which, or where you looked.',
  },
  {
    code: 'left-half-way',
    on: ['close'],
    rule: '21 CFR 11.10(e); FDA warning letter M2811N: an out-of-range first value is answered, not dropped',
    applies: (asked) => halfWay(asked).length > 0,
    says: (asked) =>
      `Neither passed nor given up: ${titles(halfWay(asked))}. Finish it, or deviate with the reason.`,
  },
  {
    code: 'left-out',
    on: ['close'],
    rule: 'CLC/TS 50131-7 (2010, from memory) 11.2: the handover is checked off; 21 CFR 11.10(f): every step of the sequence',
    applies: (asked) => leftOut(asked).length > 0,
    says: (asked) => `Not done yet: ${titles(leftOut(asked))}. Do it, or deviate with the reason.`,
  },
];
