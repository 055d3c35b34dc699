import type { Json } from '../journal/canonical.ts';
import { type Moment, momentIn } from '../journal/clock.ts';
import { JournalError } from '../journal/error.ts';
import { FORMAT, type JournalRecord } from '../journal/record.ts';
import { carryOver, withSteps } from '../procedure/carry-over.ts';
import type { Guard } from '../procedure/guards.ts';
import { applyReopens, type Reopens } from '../procedure/reopens.ts';
import type { JobEvent, JobState } from '../procedure/state.ts';
import type { Procedure } from '../procedure/step.ts';
import { initialState, nextState } from '../procedure/transition.ts';
import { type AsLeft, AsLeftReader } from './as-left-record.ts';
import { type Basis, BasisReader } from './basis.ts';
import { NameBook } from './name-book.ts';
import {
  byOf,
  eventOf,
  isObject,
  KINDS,
  type RecordedValue,
  resultOf,
  type StepResult,
  textOf,
} from './records.ts';
import { reopensIn } from './reopened.ts';

// The gates spoke before the record was made; a later version must not judge it again.
const NO_GATES: readonly Guard[] = [];

/** Which building a rehearsal draws, and what is wrong in it. */
export type Rehearsal = { readonly seed: number; readonly faults: readonly string[] };

/**
 * A job as its records tell it, one after the other. A job that runs takes each record when it is durable, a job
 * that is opened takes them all again: there is no other way to a state, so both come to the same.
 *
 * Nothing is judged here: the events stand in the records.
 */
export class Replay {
  /** Record kinds of the job that open it; null while the first has not been taken. */
  id = '';
  openedAt = '';
  rehearsal: Rehearsal | null = null;
  /** Who is named in it, and which names it was made for. */
  readonly names = new NameBook();
  /** The last record that tells all clocks. */
  lastMoment: Moment | null = null;
  /** The last record of all, and who made the last one that names somebody. */
  lastRecord: JournalRecord | null = null;
  lastPerson: string | null = null;
  /** Wall clock until which the person said to be out of reach; ends with the next record. */
  awayUntil: number | null = null;
  /** When each card was opened that has no result yet, wall clock. */
  readonly opened = new Map<string, number>();
  /** When a card that had been opened was last tried in vain: from then on it is open again. */
  readonly tried = new Map<string, number>();
  /** Every try at every step, in order. */
  readonly results = new Map<string, StepResult[]>();
  /** What was said on leaving for the night, by field; null once somebody is back. */
  left: Readonly<Record<string, RecordedValue['verdict']>> | null = null;
  /** What the leads of the meter in use read by themselves; null where nobody said. */
  leadsMilliohms: number | null = null;
  readonly #bases = new BasisReader();
  readonly #left = new AsLeftReader();
  #basis: Basis | null = null;
  #first: Basis | null = null;
  #state: JobState | null = null;

  get basis(): Basis {
    this.#basis ??= this.#bases.read(0, null);
    return this.#basis;
  }

  /** What it was opened on, before anything was corrected. */
  get firstBasis(): Basis {
    return this.#first ?? this.basis;
  }

  get procedure(): Procedure {
    return this.basis.procedure;
  }

  get state(): JobState {
    this.#state ??= initialState(this.procedure);
    return this.#state;
  }

  /** How the wiring was left, as it was stored when the job was closed; null before. */
  get storedAsLeft(): AsLeft | null {
    return this.state.job === 'closed' ? this.#left.read() : null;
  }

  /** The number that the basis of the next correction takes. */
  get nextSet(): number {
    return this.#bases.highest + 1;
  }

  take(record: JournalRecord): void {
    this.names.take(record);
    const strange = strangeness(record);
    if (strange !== null) this.strange.add(strange);
    this.lastRecord = record;
    this.lastMoment = momentIn(record) ?? this.lastMoment;
    this.lastPerson = byOf(record) ?? this.lastPerson;
    if (record.kind !== 'basis') this.awayUntil = null;
    TAKES[record.kind]?.(this, record);
    const event = record.kind === 'refused' ? null : eventOf(record);
    const reopens = event?.type === 'reopen' ? reopensIn(record.data) : null;
    if (reopens) this.#state = applyReopens(this.procedure, this.state, reopens);
    else if (event) this.apply(event);
  }

  apply(event: JobEvent): void {
    this.#state = nextState(this.procedure, this.state, event, NO_GATES);
    if (event.type !== 'interrupted' && event.type !== 'start-shift') return;
    this.opened.clear();
    this.tried.clear();
  }

  /** What a later version wrote is left as it is: kinds of record, or a format, that this one does not know. */
  readonly strange = new Set<string>();

  takeBasis(record: JournalRecord): void {
    this.#bases.take(record.data);
    this.#left.take(record.data);
  }

  takeCorrection(set: number, reopens: Reopens | null): void {
    const before = this.basis;
    this.#first ??= before;
    const state = this.state;
    this.#basis = this.#bases.read(set, before);
    this.#state = reopens
      ? applyReopens(this.procedure, withSteps(state, this.procedure), reopens)
      : carryOver(before.procedure, state, this.procedure);
  }
}

/**
 * Takes a record of a job that is to be written to.
 *
 * @throws JournalError `newer` for what this version does not know: it must not go on from what it does not understand
 */
export function takeKnown(record: JournalRecord, replay: Replay): void {
  const strange = strangeness(record);
  if (strange !== null)
    throw new JournalError(
      'newer',
      `Record ${record.n} is of ${strange}, which this version does not know. The job can be read here; to work on it, use the version that wrote it.`,
    );
  replay.take(record);
}

function strangeness({ kind, data }: JournalRecord): string | null {
  if (!KINDS.has(kind)) return `the kind ${JSON.stringify(kind)}`;
  const isOther = kind === 'open' && data.format !== undefined && data.format !== FORMAT;
  return isOther ? `the format ${JSON.stringify(data.format)}` : null;
}

/** What each kind of record brings, beside the machine's event that it may hold. */
const TAKES: Readonly<Record<string, (job: Replay, record: JournalRecord) => void>> = {
  open: (job, { at, data }) => {
    // A continuation opens too, but it opens no other job.
    if (data.continues !== undefined) return;
    job.id = textOf(data.job) ?? '';
    job.openedAt = at;
    const { rehearsal } = data;
    if (isObject(rehearsal)) job.rehearsal = rehearsal as unknown as Rehearsal;
  },
  basis: (job, record) => job.takeBasis(record),
  correct: (job, { data }) => {
    if (typeof data.set === 'number') job.takeCorrection(data.set, reopensIn(data));
  },
  begin: (job, record) => {
    const step = textOf(record.data.step);
    if (step !== null) job.opened.set(step, Date.parse(record.at));
  },
  // The journal found the clock set: what was proved dead by it is in doubt. Sleep is but a gap.
  clock: (job, { data }) => {
    const { sitting } = job.state.context;
    if (data.looksLike === 'clock-set') job.apply({ type: 'interrupted', why: 'clock', sitting });
  },
  act: (job, record) => {
    const { data } = record;
    if (data.do === 'away' && typeof data.untilMilliseconds === 'number')
      job.awayUntil = data.untilMilliseconds;
    if (data.do === 'leave') job.left = verdictsOf(data.values);
    if (data.do === 'start-shift') {
      job.left = null;
      job.leadsMilliohms = typeof data.zeroMilliohms === 'number' ? data.zeroMilliohms : null;
    }
    const result = resultOf(record);
    if (!result || typeof data.step !== 'string') return;
    const wasOpen = job.opened.delete(data.step) || job.tried.delete(data.step);
    if (wasOpen && result.outcome === 'failed') job.tried.set(data.step, Date.parse(record.at));
    const tries = job.results.get(data.step);
    if (tries) tries.push(result);
    else job.results.set(data.step, [result]);
  },
};

function verdictsOf(values: Json | undefined): Record<string, RecordedValue['verdict']> {
  if (!isObject(values)) return {};
  return Object.fromEntries(
    Object.entries(values).map(([field, value]) => [field, (value as unknown as RecordedValue).verdict]),
  );
}
