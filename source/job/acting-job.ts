import { formatHead } from '../journal/head.ts';
import { Journal } from '../journal/journal.ts';
import type { System } from '../journal/system.ts';
import type { Plan } from '../plan/plan.ts';
import { takeUpPlan } from '../plan/stored-plan.ts';
import { withSteps } from '../procedure/carry-over.ts';
import { reasons } from '../procedure/reasons.ts';
import { reopensOf } from '../procedure/reopens.ts';
import type { JobState, Reason } from '../procedure/state.ts';
import { nextState } from '../procedure/transition.ts';
import type { Change } from '../site/correct-survey.ts';
import type { Acted, Action, Next } from './action.ts';
import { malformed, nobody, notOnShift, refused } from './answers.ts';
import { asLeft } from './as-left.ts';
import { asLeftRecords } from './as-left-record.ts';
import { attachFile } from './attachments.ts';
import { type Basis, basisRecords } from './basis.ts';
import { causesOf, type NamedCause } from './causes.ts';
import { challengeTo } from './challenge.ts';
import type { Corrected, Correction } from './correct.ts';
import { HeldJob, type Ledger } from './held-job.ts';
import { labelsGiven } from './labels.ts';
import { parseAction } from './parse-action.ts';
import { Persons } from './persons.ts';
import type { Planning } from './planning.ts';
import { type Explain, type Proposal, propose } from './propose.ts';
import { recordReopens } from './reopened.ts';
import { Replay, takeKnown } from './replay.ts';
import { StoredUnreadable } from './stored-unreadable.ts';
import { hasInstrumentFailed, tellFailures } from './told.ts';
import { unseenGates } from './unseen-gates.ts';

type Correct = Extract<Action, { do: 'correct' }>;
type Recordable = Extract<Proposal, { is: 'record' }>;
const ANYBODY_MAY: ReadonlySet<Action['do']> = new Set(['start-shift', 'note', 'photo', 'doubt']);

/** Here and only here an action is checked, recorded and applied, in that order. */
export class ActingJob extends HeldJob {
  readonly #persons = new Persons(this.dir, this.replay, this.system);
  #planning: Planning | null;
  #plan: { readonly of: Basis; readonly plan: Plan } | null = null;

  constructor(
    journal: Journal,
    replay: Replay,
    system: System,
    sitting: 'screens' | 'act',
    ledger: Ledger,
    planning: Planning | null,
  ) {
    super(journal, replay, system, sitting, ledger);
    this.#planning = planning;
  }

  /** Whether an action may want what plans: one that corrects, and any where no plan was stored. */
  needsPlanning(given: unknown): boolean {
    const does = typeof given === 'object' && given !== null && 'do' in given ? given.do : null;
    return this.#planning === null && (does === 'correct' || this.replay.basis.plan === null);
  }

  handPlanning(planning: Planning): void {
    this.#planning = planning;
  }

  /** The plan behind the job, as it was stored. @throws StoredUnreadable */
  get plan(): Plan {
    const { basis } = this.replay;
    const { site } = this.known;
    // Not by its digest: a name that is corrected changes no figure, and is to be read all the same.
    if (this.#plan?.of !== basis) {
      const plan = basis.plan ? takeUpPlan(basis.plan, site) : this.#plans.planOfBasis(basis, site);
      this.#plan = { of: basis, plan };
    }
    return this.#plan.plan;
  }

  get #plans(): Planning {
    if (this.#planning === null) throw new Error('Nobody handed in what plans.');
    return this.#planning;
  }

  override enter(): void {
    super.enter();
    this.#persons.settleSite();
  }

  next(): Next {
    return this.nextAfter(null);
  }

  /**
   * Does one action: exactly what `loopward act` takes, from whoever it comes.
   *
   * @throws JournalError where it could not be saved; then nothing of it is in force
   */
  act(given: unknown): Acted {
    const parsed = parseAction(given);
    if (!parsed.ok) return malformed(parsed.says);
    const { action } = parsed;
    if (this.closed) return this.#actClosed(action);
    // Whoever starts a shift says so by name; nobody else need know them yet.
    const named = action.do === 'start-shift' ? undefined : action.by;
    const by = named === undefined ? null : this.#persons.idOf(named);
    if (named !== undefined && by === null) return this.#refuse(action, null, [], [nobody(named)]);
    const broken = this.breakNow(this.sitting, by, this.system);
    this.journal.noticeClock();
    const state = broken ? nextState(this.procedure, this.state, this.interruption(broken)) : this.state;
    const proposal =
      action.do === 'correct' ? this.#correct(action, state) : this.#propose(action, state, broken !== null);
    if (proposal.is === 'malformed') return malformed(proposal.says);
    if (proposal.is === 'challenged') return this.#challenged(proposal.challenge);
    const attached =
      proposal.is === 'record' && proposal.attach !== null
        ? attachFile(this.dir, proposal.attach, this.system.files)
        : null;
    if (attached && !attached.ok) return malformed(attached.says);
    // Whoever was killed after it was recorded, and does the same again, records nothing new.
    if (attached?.ok && this.#isLastPhoto(action, attached.attachment.sha256))
      return this.#acted('recorded', [], []);
    const explain = proposal.is === 'record' ? proposal.explain : null;
    const causes = explain ? this.#causes(explain) : [];
    const told =
      explain && action.do === 'confirm'
        ? tellFailures(explain.step, action.values, explain.judged.fields)
        : [];
    const records = broken ? [this.begin(broken, by).n] : [];
    const onShift = this.state.context.person;
    if (by !== null && onShift !== null && by !== onShift && !ANYBODY_MAY.has(action.do)) {
      return this.#refuse(action, by, records, [notOnShift(this.nameOf(by), this.nameOf(onShift))]);
    }
    if (proposal.is === 'refused') return this.#refuse(action, by, records, proposal.reasons);
    if (proposal.is === 'correction') {
      const unseen = unseenGates(proposal.correction.opened, (action as Correct).seen);
      if (unseen.length > 0) return this.#refuse(action, by, records, unseen);
      return this.#adopt(action, by, records, proposal.correction);
    }
    const acted = this.#record(action, by, records, causes, {
      ...proposal,
      data: { ...proposal.data, ...attached?.attachment },
    });
    return told.length > 0 && 'outcome' in acted ? { ...acted, told } : acted;
  }

  #isLastPhoto(action: Action, digest: string): boolean {
    const last = this.replay.lastRecord;
    if (action.do !== 'photo' || last?.kind !== 'photo' || last.data.sha256 !== digest) return false;
    const by = action.by === undefined ? this.state.context.person : this.#persons.idOf(action.by);
    return (last.data.step ?? null) === (action.step ?? null) && last.data.by === by;
  }

  /** What a correction would change, in lines, or why it cannot be; nothing is recorded. */
  previewCorrection(set: Correct['set']): string[] {
    const made = this.#correction(set, this.state);
    if (made.is === 'malformed') return [made.says];
    if (made.is === 'refused') return made.reasons.map((reason) => reason.says);
    const done = Object.entries(this.state.context.status).filter(([, status]) => status === 'done');
    return this.#plans.sayCorrection(this.plan, made.correction, new Set(done.map(([id]) => id)));
  }

  #propose(action: Action, state: JobState, broken: boolean): Proposal {
    const now = this.system.now().getTime();
    return propose(action, {
      procedure: this.procedure,
      state,
      sitting: this.sitting,
      secondsOpen: (step) => {
        const since = broken ? undefined : (this.replay.opened.get(step) ?? this.replay.tried.get(step));
        return since === undefined ? null : (now - since) / 1000;
      },
      labels: () => labelsGiven(this.procedure, this.state, this.results),
      personsFor: (names) => this.#persons.idsFor(names),
      wallMilliseconds: now,
    });
  }

  #record(
    action: Action,
    who: string | null,
    before: number[],
    causes: readonly NamedCause[],
    made: Recordable,
  ): Acted {
    // Opening a card that is open already says nothing new.
    if (action.do === 'begin' && this.replay.opened.has(action.step))
      return this.#acted('recorded', before, []);
    const names = this.journal.withRoom(() => this.#persons.keep(made.names));
    if (action.do === 'close') this.#storeAsLeft();
    const judged =
      made.kind === 'act' ? { outcome: made.outcome, causes: causes.map(({ cause }) => cause) } : {};
    const by = who ?? this.state.context.person;
    const bound = Object.keys(names).length === 0 ? {} : { names };
    const data = { do: action.do, by, ...judged, ...made.data, ...bound };
    const { n } = this.append(made.kind, data);
    const acted = () => this.#acted(made.outcome, [...before, n], causes);
    if (action.do === 'leave') {
      const head = this.handOutHead();
      return { ...acted(), head };
    }
    if (action.do !== 'close') return acted();
    this.seal();
    return { ...acted(), head: formatHead(this.head) };
  }

  /** Before the record that closes: what a sealed job prints is what stands there, whatever version prints it. */
  #storeAsLeft(): void {
    const left = asLeft(this.replay);
    if (left === null) return;
    for (const data of asLeftRecords(left, this.replay.nextSet - 1)) this.append('basis', data);
  }

  #correct(action: Correct, state: JobState): Corrected | Extract<Proposal, { is: 'challenged' }> {
    const challenge = challengeTo(action, null, null);
    return challenge ? { is: 'challenged', challenge } : this.#correction(action.set, state);
  }

  #correction(set: Correct['set'], state: JobState): Corrected {
    // Whoever may pause the work may correct what it stands on: somebody who is known and there.
    const shut = reasons(this.procedure, state, { type: 'pause' });
    if (shut.length > 0) return { is: 'refused', reasons: shut };
    try {
      return this.#plans.planCorrection(
        this.replay.basis,
        this.plan,
        state,
        this.known.site,
        set as readonly Change[],
      );
    } catch (error) {
      if (error instanceof StoredUnreadable)
        return { is: 'malformed', says: `${error.message} Use the version that opened the job.` };
      throw error;
    }
  }

  /** Stores the new basis piece by piece; only the last record puts it in force. */
  #adopt(action: Action, who: string | null, before: number[], made: Correction): Acted {
    const { reason, set, seen } = action as Correct;
    const number = this.replay.nextSet;
    const isMoved = set.some(({ path }) => /^site(\.|$)/.test(path));
    const names = isMoved ? this.journal.withRoom(() => this.#persons.keepSite(made.site)) : {};
    const pieces = basisRecords(made.basis, number, this.replay.basis).map(
      (data) => this.append('basis', data).n,
    );
    const { added, changed, struck } = made.steps;
    const { n } = this.append('correct', {
      do: 'correct',
      by: who ?? this.state.context.person,
      reason,
      changes: set.map(({ path, value }) => ({
        path,
        value: /^site(\.|$)/.test(path) ? '(private)' : JSON.stringify(value),
      })),
      set: number,
      ...(made.opened.length === 0
        ? {}
        : { seen: seen ?? '', opened: made.opened.map((gate) => ({ ...gate })) }),
      verdict: made.plan.verdict,
      ...recordReopens(reopensOf(withSteps(this.state, made.basis.procedure), made.state)),
      steps: { added: added.length, changed: changed.length, struck: struck.length },
      acknowledged: action.acknowledge ?? [],
      ...(isMoved ? { names } : {}),
    });
    if (isMoved) this.#persons.settleSite();
    return this.#acted('recorded', [...before, ...pieces, n], []);
  }

  #causes({ step, judged, heard }: Explain) {
    if (hasInstrumentFailed(step, judged.fields)) return [];
    try {
      return causesOf(step, judged.fields, () => this.plan, heard);
    } catch (error) {
      // A reading is recorded whether or not it can be explained.
      if (error instanceof StoredUnreadable) return [];
      throw error;
    }
  }

  #refuse(action: Action, by: string | null, before: number[], because: readonly Reason[]): Acted {
    const step = 'step' in action && action.step !== undefined ? { step: action.step } : {};
    const codes = because.map((reason) => reason.code);
    const who = by ?? this.state.context.person;
    const { n } = this.append('refused', { do: action.do, by: who, ...step, because: codes });
    return refused(action, because, [...before, n], this.next());
  }

  #actClosed(action: Action): Acted {
    if (action.do !== 'note') {
      const because = [{ code: 'job-closed', says: 'The job is closed and its record sealed. Add a note.' }];
      return refused(action, because, [], this.next());
    }
    const challenge = challengeTo(action, null, null);
    if (challenge) return this.#challenged(challenge);
    if (this.journal.isSealed) this.goOnIn(this.journal.continueIn());
    const { text, step } = action;
    const by = action.by === undefined ? this.state.context.person : this.#persons.idOf(action.by);
    const { n } = this.append('note', { do: 'note', by, text, ...(step === undefined ? {} : { step }) });
    return this.#acted('recorded', [n], []);
  }

  #challenged({ name, says }: { readonly name: string; readonly says: string }): Acted {
    return { format: 'loopward/acted@1', challenge: name, says, next: this.next() };
  }

  #acted(
    outcome: 'passed' | 'failed' | 'recorded',
    records: readonly number[],
    causes: readonly NamedCause[],
  ): Acted {
    return { format: 'loopward/acted@1', outcome, records, causes, next: this.next() };
  }
}

/** Opens a job of any kind, replaying its journal. @throws JournalError `missing`, `locked`, `broken`, `io` */
export function enterJob<J extends ActingJob>(
  dir: string,
  system: System,
  make: (journal: Journal, replay: Replay) => J,
): J {
  const replay = new Replay();
  const journal = Journal.open(dir, system, (record) => takeKnown(record, replay));
  const job = make(journal, replay);
  job.enter();
  return job;
}
