import { parseQuantity } from '../electrical/quantity.ts';
import type { JsonObject } from '../journal/canonical.ts';
import { actKey } from '../procedure/act-words.ts';
import { judgeProof } from '../procedure/judge.ts';
import { isLabel, sayDouble } from '../procedure/judge-text.ts';
import { leaveProof } from '../procedure/leave.ts';
import { lookUp } from '../procedure/lookup.ts';
import { deniesOpenPoints } from '../procedure/open-points.ts';
import { presentStepById } from '../procedure/present.ts';
import { reasons } from '../procedure/reasons.ts';
import { reopensOf } from '../procedure/reopens.ts';
import type { JobEvent, JobState, Reason, Sitting } from '../procedure/state.ts';
import type { Procedure, Proof, Step } from '../procedure/step.ts';
import { nextState } from '../procedure/transition.ts';
import type { Action } from './action.ts';
import { type ActDone, actsAsSaid, recordActs } from './acts-done.ts';
import { type Challenge, challengeTo } from './challenge.ts';
import { namesIn, recordedValues } from './recorded-values.ts';
import { recordReopens } from './reopened.ts';

/** What an action comes to, before anything is recorded of it. */
export type Proposal =
  | { readonly is: 'malformed'; readonly says: string }
  | { readonly is: 'refused'; readonly reasons: readonly Reason[] }
  | { readonly is: 'challenged'; readonly challenge: { readonly name: string; readonly says: string } }
  | {
      readonly is: 'record';
      readonly kind: 'act' | 'begin' | 'note' | 'photo';
      readonly data: JsonObject;
      readonly outcome: 'passed' | 'failed' | 'recorded';
      /** Judged readings that want an explanation: step and field. */
      readonly explain: Explain | null;
      /** Names that the private file takes before the record speaks of the ids. */
      readonly names: Readonly<Record<string, string>>;
      /** A file to copy into the job before the record speaks of it. */
      readonly attach: string | null;
    };
/** A card whose answers are to be explained, and how they were judged. */
export type Explain = {
  readonly step: Step;
  readonly judged: Extract<ReturnType<typeof judgeProof>, { ok: true }>;
  readonly heard: Of<'confirm'>['heard'];
};

/** Everything that an action is checked against. */
type Circumstances = {
  readonly procedure: Procedure;
  /** As it is once a break of the sitting, if there was one, has been recorded. */
  readonly state: JobState;
  readonly sitting: Sitting;
  /** Seconds since the card of a step was opened in this sitting; null where it was not. */
  readonly secondsOpen: (step: string) => number | null;
  /** Which wire bears each label that is on record. */
  readonly labels: () => ReadonlyMap<string, string>;
  /** Ids for persons by name, known ones or new ones. */
  readonly personsFor: (names: readonly string[]) => readonly string[];
  readonly wallMilliseconds: number;
};

type Of<D extends Action['do']> = Extract<Action, { do: D }>;
type Makes = { readonly [D in Action['do']]?: (action: Of<D>, here: Circumstances) => Proposal };

/** What an action comes to under these circumstances. Pure: nothing is written. A correction is made elsewhere. */
export function propose(action: Action, here: Circumstances): Proposal {
  const id = 'step' in action ? action.step : undefined;
  const step = id === undefined ? undefined : presentStepById(here.procedure, here.state, id);
  if (id !== undefined && !step)
    return malformed(`This job has no step ${JSON.stringify(id)}. Take an id that next names.`);
  const make = MAKES[action.do] as ((action: Action, here: Circumstances) => Proposal) | undefined;
  const made = make?.(action, here) ?? malformed(`${action.do} is not done this way.`);
  if (made.is !== 'record') return made;
  // What fails is not asked how long it took.
  const seconds = id === undefined || made.outcome === 'failed' ? null : here.secondsOpen(id);
  const challenge: Challenge | null = challengeTo(action, step ?? null, seconds);
  if (challenge) return { is: 'challenged', challenge };
  const acknowledged = action.acknowledge ?? [];
  return acknowledged.length === 0 ? made : { ...made, data: { ...made.data, acknowledged } };
}

const MAKES: Makes = {
  'start-shift': (action, here) => {
    const zero = action.zero === undefined ? null : parseQuantity(action.zero, 'ohms', 'field-unit');
    if (zero && !(zero.ok && zero.value >= 0 && zero.value < 1000)) {
      return malformed(
        '"zero" is what the meter reads with its leads together, in ohms. Give a figure such as 0.3.',
      );
    }
    const [person = ''] = here.personsFor([action.name]);
    const zeroMilliohms = zero?.ok ? Math.round(zero.value * 1000) : null;
    const made = gated(
      here,
      { type: 'start-shift', person, sitting: here.sitting },
      { by: person, instrument: action.instrument, zeroMilliohms },
    );
    return made.is === 'record' ? { ...made, names: { [person]: action.name } } : made;
  },
  begin: (action, here) => {
    const made = gated(here, { type: 'begin', step: action.step }, { step: action.step });
    return made.is === 'record' ? { ...made, kind: 'begin' } : made;
  },
  confirm: confirmed,
  fail: (action, here) => {
    const { step, reason } = action;
    const made = gated(here, { type: 'fail', step }, { step, reason });
    return made.is === 'record' ? { ...made, outcome: 'failed' } : made;
  },
  deviate: ({ step, reason, residualRisk, acts: said = [] }, here) => {
    const acts = actsAsSaid(stepOf(here, step)?.acts ?? [], said);
    if (typeof acts === 'string') return malformed(acts);
    return gated(here, { type: 'deviate', step }, { step, reason, residualRisk, ...keeping(acts) });
  },
  reopen: ({ step, reason }, here) => {
    const event = { type: 'reopen', step } as const;
    const reopens = recordReopens(reopensOf(here.state, nextState(here.procedure, here.state, event)));
    return gated(here, event, { step, reason, ...reopens });
  },
  doubt: (_, here) => gated(here, { type: 'doubt' }, {}),
  pause: ({ reason }, here) => gated(here, { type: 'pause' }, { reason }),
  leave: left,
  away: ({ where, forTime }, here) => {
    const time = parseQuantity(forTime, 'seconds', 'field-unit');
    if (!time.ok) return malformed(time.says);
    if (!(time.value > 0 && time.value <= LONGEST_AWAY_SECONDS)) {
      return malformed('Out of reach is at most 60 min. Say less, or pause the work.');
    }
    const seconds = Math.round(time.value);
    const untilMilliseconds = here.wallMilliseconds + seconds * 1000;
    return record('act', { where, seconds, untilMilliseconds });
  },
  close: ({ signatures }, here) => {
    const persons = here.personsFor(signatures.map((one) => one.name));
    const signed = signatures.map(({ role }, i) => ({ person: persons[i] ?? '', role }));
    const made = gated(here, { type: 'close' }, { signatures: signed });
    const names = Object.fromEntries(signatures.map(({ name }, i) => [persons[i], name]));
    return made.is === 'record' ? { ...made, names } : made;
  },
  photo: ({ path, step }) => {
    const made = record('photo', step === undefined ? {} : { step });
    return made.is === 'record' ? { ...made, attach: path } : made;
  },
  note: ({ text, step }) => record('note', { text, ...(step === undefined ? {} : { step }) }),
};

/** The longest interruption a policy may allow (5 to 60 min): so long may somebody say to be away. */
const LONGEST_AWAY_SECONDS = 3600;

function confirmed(action: Of<'confirm'>, here: Circumstances): Proposal {
  const { step: id, values } = action;
  // A shut gate is told of before an entry is looked at: what is typed at a locked door does not matter.
  const shut = reasons(here.procedure, here.state, {
    type: 'confirm',
    step: id,
    verdict: 'failed',
    option: null,
  });
  if (shut.length > 0) return { is: 'refused', reasons: shut };
  const denied = deniesOpenPoints(here.procedure, here.state, id, values);
  if (denied !== null) return { is: 'refused', reasons: [{ code: 'open-points', says: denied }] };
  const step = presentStepById(here.procedure, here.state, id)!;
  const judged = judgeProof(step, values);
  if (!judged.ok) {
    return malformed(judged.problems.map((problem) => `${problem.field}: ${problem.says}`).join(' '));
  }
  const double = doubleOf(step, values, here);
  if (double !== null) return malformed(double);
  const open = judged.challenges.find((one) => !action.acknowledge?.includes(one.name));
  if (open) return { is: 'challenged', challenge: open };
  const { verdict } = judged;
  const people = peopleIn(step.proof, values, here);
  const option = verdict === 'failed' ? null : judged.option;
  const made = gated(
    here,
    { type: 'confirm', step: id, verdict, option, ...(judged.stop === null ? {} : { stop: judged.stop }) },
    { step: id, values: recordedValues(step.proof, values, judged.fields, people, action.heard) },
  );
  if (made.is !== 'record') return made;
  const undone = leftUndone(step.proof, values);
  const acts =
    verdict === 'failed'
      ? []
      : step.acts.map((act) => ({
          act,
          went: undone.has(actKey(act)) ? ('not-done' as const) : ('done' as const),
        }));
  const data = { ...made.data, ...keeping(acts) };
  return {
    ...made,
    data,
    outcome: verdict,
    explain: { step, judged, heard: action.heard },
    names: namesById(people),
  };
}

/** Acts that an answer says were left undone although the card passes: the old board that stays where it is. */
function leftUndone(proof: readonly Proof[], values: Of<'confirm'>['values']): ReadonlySet<string> {
  return new Set(
    proof.flatMap((one) =>
      one.kind === 'choice' ? (one.options.find(({ id }) => id === values[one.field])?.leaves ?? []) : [],
    ),
  );
}

function stepOf({ procedure }: Circumstances, id: string): Step | undefined {
  return lookUp(procedure).steps.get(id);
}

function keeping(acts: readonly ActDone[]): JsonObject {
  return acts.length === 0 ? {} : { acts: recordActs(acts) };
}

/** A label that another card has given away already. */
function doubleOf(step: Step, values: Of<'confirm'>['values'], here: Circumstances): string | null {
  const labels = step.proof.filter(isLabel);
  if (labels.length === 0) return null;
  const given = here.labels();
  const own = new Set(labels.map(({ field }) => field));
  for (const { field } of labels) {
    const label = String(values[field]).trim();
    const other = given.get(label);
    if (other !== undefined && !own.has(other)) return `${field}: ${sayDouble(label, other)}`;
  }
  return null;
}

function left(action: Of<'leave'>, here: Circumstances): Proposal {
  const asked = leaveProof(here.procedure, here.state);
  const unknown = Object.keys(action.values).find((field) => !asked.some((proof) => proof.field === field));
  if (unknown !== undefined) {
    const fields = asked.map((proof) => proof.field).join(', ');
    return malformed(`There is no ${JSON.stringify(unknown)} on leaving. Say any of: ${fields}.`);
  }
  const said = asked.filter((proof) => Object.hasOwn(action.values, proof.field));
  const judged = judgeProof({ proof: said }, action.values);
  if (!judged.ok) return malformed(judged.problems.map((one) => `${one.field}: ${one.says}`).join(' '));
  const people = peopleIn(said, action.values, here);
  const values = recordedValues(said, action.values, judged.fields, people);
  const made = gated(here, { type: 'leave' }, { values });
  return made.is === 'record' ? { ...made, names: namesById(people) } : made;
}

/** Ids by name of those whom a card asks for: the record knows them by these alone. */
function peopleIn(
  proof: readonly Proof[],
  values: Of<'leave'>['values'],
  here: Circumstances,
): ReadonlyMap<string, string> {
  const names = namesIn(proof, values);
  const ids = here.personsFor(names);
  return new Map(names.map((name, i) => [name, ids[i] ?? '']));
}

function namesById(people: ReadonlyMap<string, string>): Record<string, string> {
  return Object.fromEntries([...people].map(([name, id]) => [id, name]));
}

function gated(here: Circumstances, event: JobEvent, data: JsonObject): Proposal {
  const shut = reasons(here.procedure, here.state, event);
  if (shut.length > 0) return { is: 'refused', reasons: shut };
  return record('act', { ...data, event });
}

function record(kind: 'act' | 'note' | 'photo', data: JsonObject): Proposal {
  return { is: 'record', kind, data, outcome: 'recorded', explain: null, names: {}, attach: null };
}

function malformed(says: string): Proposal {
  return { is: 'malformed', says };
}
