import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';

// Every `@example expression // => value` is run. Names are those of the file itself, then
// of its room and of `electrical`; figures agree to the digits a reader would write.

const source = resolve(import.meta.dirname, '../../source');
const ROOMS = [
  'electrical',
  'site',
  'plan',
  'procedure',
  'job',
  'journal',
  'rehearsal',
  'handover',
  'screens',
];
const AGREEMENT = 1e-4;

type Example = {
  readonly file: string;
  readonly name: string;
  readonly expression: string;
  readonly value: string;
};

const files = ROOMS.flatMap((room) =>
  (readdirSync(join(source, room), { recursive: true }) as string[])
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(room, name)),
);

/** Doc comments with what they stand before. */
function documented(file: string): { comment: string; name: string; isExported: boolean }[] {
  const text = readFileSync(join(source, file), 'utf8');
  const found = text.matchAll(
    /(?:\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*)?^(export )?(?:async )?function (\w+)/gm,
  );
  return [...found].map(([, comment = '', exported, name = '']) => ({
    comment,
    name,
    isExported: exported !== undefined,
  }));
}

function examplesOf(file: string): Example[] {
  return documented(file).flatMap(({ comment, name }) =>
    [...comment.matchAll(/@example\s+(?:\*\s+)?(.+?)\s+\/\/\s*=>\s*(.+)/g)].map(
      ([, expression = '', value = '']) => ({
        file,
        name,
        expression,
        value: value.trim(),
      }),
    ),
  );
}

type Names = Record<string, unknown>;
const namesOf = new Map<string, Promise<Names>>();
function load(file: string): Promise<Names> {
  const names = namesOf.get(file) ?? import(pathToFileURL(join(source, file)).href);
  namesOf.set(file, names);
  return names;
}

async function scopeOf(file: string): Promise<Names> {
  const room = file.split('/')[0]!;
  const wide = files.filter((other) => other.startsWith('electrical/') || other.startsWith(`${room}/`));
  const all = await Promise.all([...wide.map(load), load(file)]);
  return Object.assign({}, ...all);
}

function evaluate(expression: string, scope: Names): unknown {
  return new Function(...Object.keys(scope), `return (${expression});`)(...Object.values(scope));
}

/** Figures rounded the way a reader compares them; everything else as it is. */
function isEqual(a: unknown, b: unknown): boolean {
  if (typeof a === 'number' && typeof b === 'number') {
    return Object.is(a, b) || Math.abs(a - b) <= Math.max(AGREEMENT * Math.abs(b), 1e-9);
  }
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return Object.is(a, b);
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return (
    Array.isArray(a) === Array.isArray(b) &&
    [...keys].every((key) => isEqual((a as Names)[key], (b as Names)[key]))
  );
}

const examples = files.flatMap(examplesOf);

describe('worked figures in the comments', () => {
  test.each(examples)('$file: $name: $expression', async ({ file, expression, value }) => {
    const got = evaluate(expression, await scopeOf(file));
    const told = evaluate(value, {});
    if (!isEqual(got, told)) expect(got).toEqual(told);
    expect(isEqual(got, told)).toBe(true);
  });

  test('there are some in the electrical room, and a wrong one would be noticed', () => {
    expect(examples.filter(({ file }) => file.startsWith('electrical/')).length).toBeGreaterThan(30);
    expect(isEqual({ min: 1.0002 }, { min: 1 })).toBe(false);
    expect(isEqual([1, 2], [1, 2, 3])).toBe(false);
  });
});

test('every exported function of the electrical room says what it does', () => {
  const bare = files
    .filter((file) => file.startsWith('electrical/'))
    .flatMap((file) =>
      documented(file)
        .filter(({ comment, isExported }) => isExported && comment.trim() === '')
        .map(({ name }) => `${file}: ${name}`),
    );
  expect(bare).toEqual([]);
});
