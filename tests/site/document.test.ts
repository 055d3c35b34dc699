import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';
import { readDocument, type Written } from '../../source/site/document.ts';
import type { Path } from '../../source/site/problem.ts';
import { Chance } from '../chance.ts';
import { randomSurveyText } from '../random-survey.ts';
import { report, scale } from '../scale.ts';

// Surveys are read with one library (`js-yaml`) and held here against another, written by other people: `yaml`.

type Read = { readonly written: Written; readonly lines: ReadonlyMap<string, number> };

/** What `yaml` reads, with the line of every field and entry; null where it finds a fault, or more than one document. */
function byOtherLibrary(text: string): Read | null {
  const lineCounter = new LineCounter();
  const options = { schema: 'failsafe', uniqueKeys: false, prettyErrors: false, lineCounter } as const;
  const document = parseDocument(text, options);
  if (document.errors.length > 0 || document.contents === null) return null;
  const lines = new Map<string, number>();
  const mark = (at: Path, node: unknown) => {
    const range = (node as Node | null)?.range;
    if (range && range[1] > range[0]) lines.set(JSON.stringify(at), lineCounter.linePos(range[0]).line);
  };
  const written = readNode(document, document.contents, [], mark);
  return typeof written === 'string' || Array.isArray(written) ? null : { written, lines };
}

type Mark = (at: Path, node: unknown) => void;

function readNode(document: Document, node: unknown, at: Path, mark: Mark): Written {
  if (isAlias(node)) return readNode(document, node.resolve(document), at, mark);
  if (isSeq(node)) {
    return node.items.map((item, index) => {
      mark([...at, index], item);
      return readNode(document, item, [...at, index], mark);
    });
  }
  if (!isMap(node)) return isScalar(node) ? textOf(node) : '';
  const fields: Record<string, Written> = {};
  const names = new Set<string>();
  for (const { key, value } of node.items) {
    const name = isScalar(key) ? textOf(key) : '';
    if (name === '' || name === '__proto__') continue;
    const isTwice = names.has(name);
    names.add(name);
    mark([...at, name], key);
    const read = isTwice ? '' : readNode(document, value, [...at, name], mark);
    if (read !== '') fields[name] = read;
  }
  return fields;
}

function textOf({ value, type }: { value: unknown; type?: string | undefined }): string {
  const text = String(value ?? '').trim();
  return type === 'PLAIN' && (text === 'null' || text === '~') ? '' : text;
}

/** What we read, with the lines that a problem at the same places would name. */
function byUs(text: string, places: Iterable<string>): Read | null {
  const read = readDocument(text, 'x');
  if ('problems' in read) return null;
  const lineOf = (place: string) => read.problem({ at: JSON.parse(place), says: '', accepts: '' }).line ?? 0;
  return { written: read.written, lines: new Map([...places].map((place) => [place, lineOf(place)])) };
}

type Agreement = 'both read it alike' | 'both refuse it' | 'we alone refuse it' | 'we alone read it';

function agreement(text: string): Agreement {
  const theirs = byOtherLibrary(text);
  const ours = byUs(text, theirs?.lines.keys() ?? []);
  if (ours !== null && theirs !== null) {
    expect(ours.written, text).toEqual(theirs.written);
    expect([...ours.lines], text).toEqual([...theirs.lines]);
    return 'both read it alike';
  }
  if (ours === null) return theirs === null ? 'both refuse it' : 'we alone refuse it';
  return 'we alone read it';
}

describe('reading YAML agrees with another library', () => {
  test('every file that ships, good and broken', () => {
    const root = new URL('../../fixtures/', import.meta.url);
    const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.yaml'),
    );
    expect(files.length).toBeGreaterThan(10);
    for (const name of files) {
      const text = readFileSync(new URL(name, root), 'utf8');
      const isNone = /not-yaml|empty/.test(name);
      expect(agreement(text), name).toBe(isNone ? 'both refuse it' : 'both read it alike');
    }
  });

  test.each([
    ['plain words over lines', 'a: one\n  two\n\n  three\nb: x\n'],
    ['quotes, escapes and a hash inside', `a: "x\\ty \\u00b5 \\"z\\" # no"\nb: 'it''s'\nc: x#y # yes\n`],
    [
      'literal and folded blocks',
      'a: |\n  one\n   two\nb: >-\n  one\n  two\n\n  three\nc: |2+\n   x\n\nd: y\n',
    ],
    ['nothing, null and a tilde, plain and quoted', 'a:\nb: null\nc: ~\nd: "null"\ne: \'~\'\nf: {}\ng: []\n'],
    ['anchors and aliases', 'a: &a {x: [1, 2]}\nb: *a\nc: [*a, &b word, *b]\n'],
    [
      'lists in lists, and a list as deep as its field',
      'a:\n- b\n- - c\n  - d\n-\n  e: f\n-\n- {g: [h,\n  i]}\n',
    ],
    ['keys asked for, keys of lists, keys twice', '? a\n: b\n? [c]\n: d\ne: f\ne: g\n{h}: i\nj:\nj: k\n'],
    ['JSON with everything on one line', '{"a": [1, 2.5, true, null, "x"], "b": {"c": ""}, "d":"e"}'],
    ['Windows line ends', 'a: b\r\nc:\r\n  - d\r\n  - e: f\r\n'],
    ['tags', 'a: !!int 5\nb: !own {c: d}\n'],
    ['a mark at the start, and an end', '---\na: b\n...\n# over\n'],
    ['colons and dashes in words', 'a: b:c\nd: -x\ne: http://f\ng: "h: i"\n'],
  ])('%s', (_what, text) => {
    expect(agreement(text)).toBe('both read it alike');
  });

  test('random surveys, as YAML and as JSON', () => {
    for (let seed = 0; seed < scale(500, 0.06); seed += 1) {
      const text = randomSurveyText(seed);
      expect(agreement(text)).toBe('both read it alike');
      const read = readDocument(text, 'x');
      if ('problems' in read) throw new Error('not read');
      expect(agreement(JSON.stringify(read.written, null, seed % 3))).toBe('both read it alike');
    }
  });

  test('random surveys that somebody spoiled: both read it alike, or both refuse it', () => {
    const chance = new Chance(20_251_125);
    const counts = new Map<Agreement, number>();
    const runs = scale(5000, 0.06);
    for (let run = 0; run < runs; run += 1) {
      const how = agreement(spoiled(randomSurveyText(run % 400, { zones: 1 + (run % 3) }), chance));
      counts.set(how, (counts.get(how) ?? 0) + 1);
    }
    report(`${runs} spoiled surveys, read by two libraries`, [Object.fromEntries(counts)]);
    expect(counts.get('both read it alike') ?? 0).toBeGreaterThan(runs / 20);
    expect(counts.get('both refuse it') ?? 0).toBeGreaterThan(runs / 20);
    expect([...counts.keys()].sort()).toEqual(['both read it alike', 'both refuse it']);
  });
});

const SPOILS = [
  '\n',
  '  ',
  '- ',
  ': ',
  '"',
  "'",
  '{',
  '}',
  '[',
  ']',
  ',',
  '#',
  ' #',
  '&a ',
  '*a',
  '|',
  '>',
  '!x ',
  '? ',
  '\t',
  '~',
];

/** One to three pieces put in, taken out or written twice. */
function spoiled(text: string, chance: Chance): string {
  let now = text;
  for (let times = chance.from(1, 2); times > 0; times -= 1) {
    const at = chance.from(0, now.length);
    const length = chance.from(0, 6);
    const put = chance.is(0.7) ? chance.pick(SPOILS) : now.slice(at, at + length);
    now = now.slice(0, at) + put + now.slice(chance.is(0.5) ? at : at + length);
  }
  return now;
}
