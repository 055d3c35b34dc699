import { checkCircuits } from './check-circuits.ts';
import { referenceTroubles } from './check-references.ts';
import { type ReadDocument, readDocument, type Written } from './document.ts';
import { checkFields } from './fields.ts';
import type { Problem, Trouble } from './problem.ts';
import type { Survey } from './survey.ts';
import { type SurveyFile, surveyFile } from './survey-file.ts';

export type { Problem } from './problem.ts';
export { problemToText } from './problem.ts';

type SurveyRead =
  | { readonly ok: true; readonly survey: Survey }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const MOST_PROBLEMS = 200;

/**
 * Reads a survey file. Every problem in it is told at once, each with line and field, in the order of the
 * file. A survey with the `outside` part alone is read as one that is not complete.
 *
 * @param file the name to tell problems by
 */
export function parseSurvey(text: string, file: string): SurveyRead {
  const document = readDocument(text, file);
  return 'problems' in document ? { ok: false, problems: document.problems } : readSurvey(document);
}

/** Reads a survey from fields that are read already. */
export function readSurvey(document: ReadDocument): SurveyRead {
  const { value, problems } = checkFields(surveyFile, document);
  const references = referenceTroubles(document.written).map(document.problem);
  const found = [...problems, ...references];
  // One wrong figure must not hide what is wrong with the cores: the rest is checked without it.
  const rest = value ?? readable(document, found);
  if (rest === null || references.length > 0) return { ok: false, problems: inOrder(found) };
  const { survey, troubles } = checkCircuits(rest);
  found.push(...[...emptyTroubles(rest), ...troubles].map(document.problem));
  return found.length === 0 ? { ok: true, survey } : { ok: false, problems: inOrder(found) };
}

/** The file without the values that cannot be read, where it makes sense without them. */
function readable(document: ReadDocument, problems: readonly Problem[]): SurveyFile | null {
  const wrong = new Set(problems.map((problem) => problem.field));
  const strip = (written: Written, at: (string | number)[]): Written => {
    if (typeof written === 'string') return written;
    const name = (step: string | number) =>
      document.problem({ at: [...at, step], says: '', accepts: '' }).field;
    if (Array.isArray(written)) return written.map((item, index) => strip(item, [...at, index]));
    const kept = Object.entries(written).filter(([key]) => !wrong.has(name(key)));
    return Object.fromEntries(kept.map(([key, value]) => [key, strip(value, [...at, key])]));
  };
  const checked = surveyFile.safeParse(strip(document.written, []));
  return checked.success ? checked.data : null;
}

function emptyTroubles(file: SurveyFile): Trouble[] {
  if (file.outside !== undefined || file.zones.length > 0) return [];
  return [{ at: [], says: 'Nothing is surveyed yet.', accepts: 'at least the part `outside`' }];
}

function inOrder(problems: readonly Problem[]): Problem[] {
  return [...problems].sort((a, b) => (a.line ?? 0) - (b.line ?? 0)).slice(0, MOST_PROBLEMS);
}
