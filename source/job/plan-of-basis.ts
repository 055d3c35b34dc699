import type { Plan } from '../plan/plan.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { takeUpPlan } from '../plan/stored-plan.ts';
import { type ReadDocument, readDocument, type Written } from '../site/document.ts';
import { parseBoard } from '../site/parse-board.ts';
import { readSurvey } from '../site/parse-survey.ts';
import { printWritten } from '../site/print-written.ts';
import type { Basis } from './basis.ts';
import type { Private } from './private.ts';
import { StoredUnreadable } from './stored-unreadable.ts';

/** A survey text without its `site`, which names a place, and without the comments: so it enters the journal. */
export function withoutSite(surveyText: string): string {
  const { site: _, ...rest } = fieldsOf(surveyText);
  return printWritten(rest).replaceAll(/\p{Surrogate}/gu, '\ufffd');
}

/** A stored survey text with its place put back, as far as it has not been erased. */
export function withSite(surveyText: string, site: Private['site']): string {
  return printWritten({ ...fieldsOf(surveyText), site: placeOf(site) });
}

function placeOf(site: Private['site']): Written {
  const { name, reference, ...rest } = site ?? { name: '(erased)', reference: '' };
  return { name, ...(reference === '' ? {} : { reference }), ...rest };
}

/** The fields of a survey text that has been read before. */
export function fieldsOf(surveyText: string): { readonly [key: string]: Written } {
  return fieldsIn(readAgain(surveyText));
}

function readAgain(surveyText: string): ReadDocument {
  const document = readDocument(surveyText, 'survey');
  if ('problems' in document)
    throw new Error(`The survey cannot be read again: ${document.problems[0]?.says}`);
  return document;
}

function fieldsIn({ written }: ReadDocument): { readonly [key: string]: Written } {
  return typeof written === 'object' && !Array.isArray(written)
    ? (written as { [key: string]: Written })
    : {};
}

/**
 * The plan of what a job stands on, as it was stored. One that was opened before plans were stored has none: there the
 * survey is planned again.
 *
 * @throws StoredUnreadable if this version cannot read what an earlier one stored
 */
export function planInForce(basis: Pick<Basis, 'survey' | 'boards' | 'plan'>, site: Private['site']): Plan {
  return basis.plan === null ? planOfBasis(basis, site) : takeUpPlan(basis.plan, site);
}

/**
 * The plan that this version makes of what a job stands on.
 *
 * @throws StoredUnreadable if this version cannot read what an earlier one stored
 */
export function planOfBasis(basis: Pick<Basis, 'survey' | 'boards'>, site: Private['site']): Plan {
  // Not printed and read once more, as `withSite` would have it: that takes as long as planning does.
  const stored = readAgain(basis.survey);
  const survey = readSurvey({ ...stored, written: { ...fieldsIn(stored), site: placeOf(site) } });
  if (!survey.ok) throw new StoredUnreadable(`The stored survey cannot be read: ${survey.problems[0]?.says}`);
  const boards = basis.boards.map(({ id, file, text }) => {
    const board = parseBoard(text, file, id);
    if (!board.ok)
      throw new StoredUnreadable(`The stored board ${id} cannot be read: ${board.problems[0]?.says}`);
    return board.board;
  });
  return planChangeover(survey.survey, boards);
}
