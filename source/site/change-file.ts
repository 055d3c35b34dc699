import type { Change, ChangeValue } from './correct-survey.ts';
import { readDocument, type Written } from './document.ts';
import type { Problem } from './problem.ts';

export type ChangesRead =
  | { readonly ok: true; readonly changes: readonly Change[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads a file of changes to a survey: one path a line with its new value (`cables.c1.length: 40 m`), or under
 * `set` a list of `{path, value}` as a correction has them.
 */
export function parseChanges(text: string, file: string): ChangesRead {
  const document = readDocument(text, file);
  if ('problems' in document) return { ok: false, problems: document.problems };
  const { written, troubles } = document;
  if (troubles.length > 0) return { ok: false, problems: troubles.map(document.problem) };
  const fields = Object.entries(written as Readonly<Record<string, Written>>);
  const [first] = fields;
  if (fields.length !== 1 || first?.[0] !== 'set' || !Array.isArray(first[1])) {
    return { ok: true, changes: fields.map(([path, value]) => ({ path, value: value as ChangeValue })) };
  }
  const items: readonly Written[] = first[1];
  const isChange = (item: Written): item is { path: string; value: Written } =>
    typeof item === 'object' && 'path' in item && typeof item.path === 'string' && 'value' in item;
  const wrong = items.flatMap((item, index) => (isChange(item) ? [] : [index]));
  const problems = wrong.map((index) =>
    document.problem({
      at: ['set', index],
      says: 'This is no change.',
      accepts: '{path: cables.c1.length, value: 40 m}',
    }),
  );
  if (problems.length > 0) return { ok: false, problems };
  return {
    ok: true,
    changes: items.filter(isChange).map(({ path, value }) => ({ path, value: value as ChangeValue })),
  };
}
