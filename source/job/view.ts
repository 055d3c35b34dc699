import { formatQuantity } from '../electrical/quantity-words.ts';
import { momentOf } from '../journal/clock.ts';
import type { System } from '../journal/system.ts';
import { leaveProof } from '../procedure/leave.ts';
import type { JobEvent, JobState, Sitting } from '../procedure/state.ts';
import type { Procedure } from '../procedure/step.ts';
import { nextState } from '../procedure/transition.ts';
import type { Next } from './action.ts';
import { LEADS_OHMS } from './challenge.ts';
import { sayBreak } from './history-words.ts';
import { leavingWarnings } from './leave.ts';
import { nextOf } from './next.ts';
import { type Private, readPrivate } from './private.ts';
import type { Replay } from './replay.ts';
import { type Break, sittingBreak } from './sitting.ts';
import { standingOf } from './standing.ts';
import { withStops } from './stopped.ts';

/** A job as it can be looked at: what its records and its private file tell. Writes nothing. */
export class JobView {
  readonly dir: string;
  protected readonly replay: Replay;

  constructor(dir: string, replay: Replay) {
    this.dir = dir;
    this.replay = replay;
  }

  get id(): string {
    return this.replay.id;
  }

  get state(): JobState {
    return this.replay.state;
  }

  get procedure(): Procedure {
    return this.replay.procedure;
  }

  get rehearsal(): Replay['rehearsal'] {
    return this.replay.rehearsal;
  }

  get closed(): boolean {
    return this.state.job === 'closed';
  }

  /** The survey and boards that it stands on now. */
  get basis(): Replay['basis'] {
    return this.replay.basis;
  }

  /** The survey and boards that it was opened on, before anything was corrected. */
  get firstBasis(): Replay['firstBasis'] {
    return this.replay.firstBasis;
  }

  /** When it was opened, as text. */
  get openedAt(): string {
    return this.replay.openedAt;
  }

  /** Every try at every step so far, by step id, the first first. */
  get results(): Replay['results'] {
    return this.replay.results;
  }

  get lastRecord(): Replay['lastRecord'] {
    return this.replay.lastRecord;
  }

  /** Names and place that the record was made for, as far as they have not been erased. */
  get known(): Private {
    return this.replay.names.vouchedFor(readPrivate(this.dir));
  }

  /** The name of a person by id, or the id where the name was erased. */
  nameOf(person: string): string {
    return this.replay.names.nameOf(person, readPrivate(this.dir));
  }

  /** What has broken the sitting since the last record, as an action now would find; null while it goes on. */
  breakNow(sitting: Sitting, by: string | null, system: System): Break | null {
    const { lastMoment: last, awayUntil } = this.replay;
    if (last === null) return { why: 'new-sitting', gapSeconds: 0 };
    const { sitting: before, person } = this.state.context;
    const allowed = this.procedure.interruptionSeconds;
    return sittingBreak({ sitting: before, person, last, awayUntil }, sitting, by, momentOf(system), allowed);
  }

  /** Leads that were insisted on hide what is read through them: said until another meter is. */
  #leads(): string[] {
    const ohms = (this.replay.leadsMilliohms ?? 0) / 1000;
    if (this.closed || ohms <= LEADS_OHMS) return [];
    return [
      `The leads of the meter read ${formatQuantity(ohms, 'ohms')} by themselves. Take that off every figure before it is typed, or mend them and say anew who is working.`,
    ];
  }

  /** A later version may have recorded what changes all of this. */
  #strange(): string[] {
    const { strange } = this.replay;
    if (strange.size === 0) return [];
    return [
      `A later version wrote in this job what this one does not know (${[...strange].join(', ')}): what is shown here may lack what that says, and nothing can be recorded. Use that version.`,
    ];
  }

  /** Where the job stands; `after`: an event that an action now would first record. */
  protected nextAfter(after: JobEvent | null, warnings: readonly string[] = []): Next {
    const state = after && !this.closed ? nextState(this.procedure, this.state, after) : this.state;
    const { person } = state.context;
    const personName = person === null ? null : this.nameOf(person);
    const left = this.replay.left ? leavingWarnings(leaveProof(this.procedure, state), this.replay.left) : [];
    const job = { id: this.id, rehearsal: this.rehearsal !== null, personName };
    const next = nextOf(job, this.procedure, state, [
      ...warnings,
      ...this.#strange(),
      ...this.#leads(),
      ...left,
    ]);
    return { ...withStops(next, this.procedure, state, this.results), ...standingOf(this.replay) };
  }
}

/** A job that is only read: no lock is taken. */
export class ReadOnlyJob extends JobView {
  /**
   * Where the job stands.
   *
   * @param system its clocks: then `next` shows what an `act` now would find
   */
  next(system: System | null = null): Next {
    const broken = system && this.breakNow('act', null, system);
    if (!broken) return this.nextAfter(null);
    const says = `${sayBreak(broken)} The next action begins a new sitting.`;
    const isNew = this.state.context.sitting === 'none' || this.closed;
    return this.nextAfter({ type: 'interrupted', why: broken.why, sitting: 'act' }, isNew ? [] : [says]);
  }
}
