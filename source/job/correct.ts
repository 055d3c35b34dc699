import type { Plan } from '../plan/plan.ts';
import { storePlan } from '../plan/stored-plan.ts';
import { buildProcedure } from '../procedure/build-procedure.ts';
import { carryOver, stepChanges } from '../procedure/carry-over.ts';
import type { JobState, Reason } from '../procedure/state.ts';
import { applyCorrection, type Change } from '../site/correct-survey.ts';
import { type OpenedGate, openedGates } from '../site/opened-gates.ts';
import { problemToText } from '../site/problem.ts';
import { isLifeSafety, type Survey } from '../site/survey.ts';
import type { Basis } from './basis.ts';
import { planDigest } from './plan-digest.ts';
import { planOfBasis, withoutSite, withSite } from './plan-of-basis.ts';
import type { Private } from './private.ts';
import { readBoardFiles } from './site-files.ts';
import { sayOpened } from './unseen-gates.ts';

/** What a correction of the survey comes to, before it is adopted. */
export type Correction = {
  readonly basis: Basis;
  readonly plan: Plan;
  readonly site: Survey['site'];
  readonly state: JobState;
  readonly steps: ReturnType<typeof stepChanges>;
  /** The gates that it takes away. */
  readonly opened: readonly OpenedGate[];
  /** This version plans otherwise than the one that made the steps in force: the difference holds that too. */
  readonly plansOtherwise: boolean;
};

/** What came of a correction: itself, or why there is none. */
export type Corrected =
  | { readonly is: 'correction'; readonly correction: Correction }
  | { readonly is: 'malformed'; readonly says: string }
  | { readonly is: 'refused'; readonly reasons: readonly Reason[] };

/**
 * Changes the survey that a job stands on and plans again. Nothing is written.
 *
 * @param before the plan in force
 */
export function planCorrection(
  basis: Basis,
  before: Plan,
  state: JobState,
  site: Private['site'],
  set: readonly Change[],
): Corrected {
  const corrected = applyCorrection(withSite(basis.survey, site), set, 'survey');
  if (!corrected.ok) return { is: 'malformed', says: corrected.problems.map(problemToText).join(' ') };
  const lost = lostLifeSafety(before.survey, corrected.survey);
  if (lost.length > 0) return { is: 'refused', reasons: [lifeSafetyStays(lost)] };
  const boards = boardsAfter(basis, corrected.survey, set);
  if (!boards.ok) return { is: 'malformed', says: boards.says };
  const survey = withoutSite(corrected.text);
  const plan = planOfBasis({ survey, boards: boards.files }, corrected.survey.site);
  const procedure = buildProcedure(plan);
  const after = {
    survey,
    boards: boards.files,
    planDigest: planDigest(plan),
    plan: storePlan(plan),
    procedure,
  };
  return {
    is: 'correction',
    correction: {
      basis: after,
      plan,
      site: corrected.survey.site,
      state: carryOver(basis.procedure, state, procedure),
      steps: stepChanges(basis.procedure, procedure),
      opened: openedGates(before.survey, corrected.survey),
      plansOtherwise: planDigest(planOfBasis(basis, site)) !== basis.planDigest,
    },
  };
}

/** The difference a correction makes, in lines, for whoever is to adopt it. */
export function sayCorrection(
  before: Plan,
  { plan, steps, opened, plansOtherwise }: Correction,
  done: ReadonlySet<string>,
): string[] {
  const named = (ids: readonly string[]): string => (ids.length === 0 ? 'none' : ids.join(', '));
  const redone = steps.changed.filter((id) => done.has(id));
  const known = new Set(before.findings.map((finding) => finding.message));
  const fresh = plan.findings.filter((finding) => !known.has(finding.message));
  return [
    ...opened.map((gate) => `${sayOpened(gate)} What was seen there is to be said with it.`),
    `The plan is then ${plan.verdict}.`,
    ...(plansOtherwise
      ? ['The program has changed since these steps were made, and would plan some otherwise.']
      : []),
    ...fresh.map((finding) => `New: ${finding.message}`),
    `Steps that come new: ${named(steps.added)}`,
    `Steps that change: ${named(steps.changed)}`,
    `Steps that are struck: ${named(steps.struck)}`,
    ...(redone.length > 0 ? [`Done, and open again: ${named(redone)}`] : []),
  ];
}

/** Life-safety circuits that a corrected survey no longer has: one may be added, never taken away. */
function lostLifeSafety(before: Survey, after: Survey): string[] {
  const kept = new Map(after.detectors.map((detector) => [detector.id, detector.kind]));
  const detectors = before.detectors.filter(({ id, kind }) => {
    const now = kept.get(id);
    // What counts only because nobody knew what it is may turn out to be something else; it may not vanish.
    if (kind === 'unknown') return now === undefined;
    return isLifeSafety(kind) && (now === undefined || now === 'unknown' || !isLifeSafety(now));
  });
  const keypads = before.keypads.filter(({ id, emergencyKeys }) => {
    const now = after.keypads.find((keypad) => keypad.id === id)?.emergencyKeys;
    return (emergencyKeys === 'fire' || emergencyKeys === 'medical') && now !== emergencyKeys;
  });
  const outside = before.outside.lifeSafety === 'present' && after.outside.lifeSafety !== 'present';
  return [
    ...detectors.map(({ id }) => id),
    ...keypads.map(({ id }) => id),
    ...(outside ? ['outside.lifeSafety'] : []),
  ];
}

function lifeSafetyStays(lost: readonly string[]): Reason {
  return {
    code: 'life-safety-stays',
    says: `A life-safety circuit can be added, never taken away: ${lost.join(', ')}. Leave it in the survey.`,
  };
}

type Boards =
  | { readonly ok: true; readonly files: Basis['boards'] }
  | { readonly ok: false; readonly says: string };

/** The boards stay those that are stored, but for those that the correction itself names anew. */
function boardsAfter(basis: Basis, survey: Survey, set: readonly Change[]): Boards {
  if (!set.some(({ path }) => /^boards(\.|$)/.test(path))) return { ok: true, files: basis.boards };
  const isStored = (id: string, file: string) =>
    basis.boards.some((one) => one.id === id && one.file === file);
  const read = readBoardFiles(survey.boards.filter(({ id, file }) => !isStored(id, file)));
  if (read.problems.length > 0) return { ok: false, says: read.problems.map(problemToText).join(' ') };
  const known = [...basis.boards, ...read.files];
  const files = survey.boards.flatMap(
    ({ id, file }) => known.find((one) => one.id === id && one.file === file) ?? [],
  );
  return { ok: true, files };
}
