import type { Change, ChangeValue } from '../site/correct-survey.ts';
import { entryName, readDocument, type Written } from '../site/document.ts';
import type { Problem } from '../site/problem.ts';

type PatchRead =
  | { readonly ok: true; readonly changes: readonly Change[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

type Fields = { readonly [key: string]: Written };

/**
 * Reads a file that changes a survey: a part of a survey, in which list entries are met by their id and new
 * ones are added; or the list that a correction takes, `set: [{path: cables.c7.length, value: 60 m}]`.
 *
 * @param surveyText the survey it changes: tells which entries are there already
 */
export function readSurveyPatch(text: string, file: string, surveyText: string): PatchRead {
  const patch = readDocument(text, file);
  if ('problems' in patch) return { ok: false, problems: patch.problems };
  const survey = readDocument(surveyText, '');
  const there = 'problems' in survey ? {} : survey.written;
  const fields = patch.written as Fields;
  const changes = 'set' in fields ? listedChanges(fields.set!) : changesIn(fields, there, []);
  if (changes !== null && changes.length > 0) return { ok: true, changes };
  const accepts = 'a part of a survey, or set: [{path: cables.c7.length, value: 60 m}]';
  return { ok: false, problems: [{ file, line: 1, field: '', says: 'The file changes nothing.', accepts }] };
}

function listedChanges(set: Written): Change[] | null {
  if (!Array.isArray(set)) return null;
  const changes: Change[] = [];
  for (const entry of set as readonly Written[]) {
    if (!isFields(entry) || typeof entry.path !== 'string' || entry.value === undefined) return null;
    changes.push({ path: entry.path, value: changeValue(entry.value) });
  }
  return changes;
}

function changesIn(value: Written, there: Written | undefined, path: readonly string[]): Change[] {
  if (isFields(value)) {
    const known = isFields(there) ? there : {};
    return Object.entries(value)
      .filter(([key]) => !(path.length === 0 && key === 'format'))
      .flatMap(([key, field]) => changesIn(field, known[key], [...path, key]));
  }
  const named = Array.isArray(value) && value.every((entry) => isFields(entry) && entryName(entry) !== null);
  if (!named || path.length === 0) return [{ path: path.join('.'), value: changeValue(value) }];
  const known = Array.isArray(there) ? (there as readonly Written[]) : [];
  return (value as readonly Fields[]).flatMap((entry) => {
    const name = entryName(entry)!;
    const present = known.find((one) => entryName(one) === name);
    return present === undefined
      ? [{ path: [...path, name].join('.'), value: changeValue(entry) }]
      : changesIn(withoutName(entry), present, [...path, name]);
  });
}

function withoutName(entry: Fields): Fields {
  return Object.fromEntries(Object.entries(entry).filter(([key]) => key !== 'id' && key !== 'number'));
}

/** `null` takes a field out; everything else is text, as people write it. */
function changeValue(written: Written): ChangeValue {
  return written === 'null' || written === '~' ? null : written;
}

function isFields(value: Written | undefined): value is Fields {
  return typeof value === 'object' && !Array.isArray(value);
}
