import type { JobState } from './state.ts';
import type { Procedure } from './step.ts';
import { looksForVoltage } from './supply.ts';
import { SUPPLY_WORDS } from './words.ts';

/** Whether a telephone line was unplugged and not made through again. */
export function isLineCut({ steps }: Procedure, { context: { status } }: JobState): boolean {
  const cut = steps.find(({ id }) => id === 'isolate.telephone');
  const isCut =
    cut !== undefined &&
    cut.acts.length > 0 &&
    ['done', 'begun', 'unknown', 'failed'].includes(status[cut.id] ?? 'open');
  return isCut && status['clear.telephone'] !== 'done';
}

/** What must stay before the eyes of whoever comes to the job, until it is settled. */
export function warnings(procedure: Procedure, state: JobState): string[] {
  if (state.job === 'closed') return [];
  const { status, branches, person, sitting, owed } = state.context;
  const with_ = (wanted: string) => procedure.steps.filter((step) => status[step.id] === wanted);
  const titles = (wanted: string) =>
    with_(wanted)
      .map(({ title }) => `“${title}”`)
      .join(', ');
  const found: (string | false)[] = [
    procedure.blocked && 'The plan is blocked. Only making safe, notes and corrections are possible.',
    person === null && 'Nobody has said who is working: say it first, with your name and your meter.',
    person !== null && sitting === 'none' && 'The sitting has ended: say who is working before going on.',
    state.supply === 'unproven' &&
      `${SUPPLY_WORDS.unproven}: ${owed === 'short' ? 'the short proof will do' : 'in full'}.`,
    branches['life-safety.decision'] === 'impairment' &&
      status['impairment.restore'] !== 'done' &&
      'An impairment is open: a life-safety circuit is out of service. Restore and record it as soon as possible.',
    status['centre.on-test'] === 'done' &&
      status['centre.end'] === 'open' &&
      'The receiving centre is on test. Mind the time that was agreed, and end it before leaving for good.',
    isLineCut(procedure, state) &&
      'The telephone line is unplugged: no emergency call goes over it. Whoever is here must know, and have another telephone.',
    with_('unknown').length > 0 &&
      `Opened before, and perhaps done in full or in part: ${titles('unknown')}. Say first how each stands.`,
    with_('failed').length > 0 && `Failed and not mended: ${titles('failed')}.`,
    ...with_('failed')
      .filter((step) => looksForVoltage(step))
      .map(
        (step) =>
          `A voltage may stand where none may be (“${step.title}”): find what feeds it, a telephone line or another system. Until it is gone no ohms are read there, and nothing of it is landed.`,
      ),
    with_('deviated').length > 0 && `Given up with a reason: ${titles('deviated')}.`,
  ];
  return found.filter((one) => one !== false);
}
