import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseBoard } from '../../source/site/parse-board.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { Chance } from '../chance.ts';
import { randomSurveyText } from '../random-survey.ts';
import { scale } from '../scale.ts';

/** For the figures in full, on a busy machine. */
const LIMIT = 600_000;

const SEED = 20_240_611;

function problemsOf(text: string): string[] {
  const survey = parseSurvey(text, 'hostile.yaml');
  const board = parseBoard(text, 'hostile.yaml', 'b1');
  expect(board.ok).toBe(false);
  if (survey.ok) throw new Error('accepted');
  expect(survey.problems.length).toBeGreaterThan(0);
  expect(survey.problems.length).toBeLessThanOrEqual(200);
  return survey.problems.map((problem) => problem.says);
}

const noise = (length: number, low: number, high: number) => {
  const chance = new Chance(SEED);
  const codes = Array.from({ length }, () => (chance.is(0.02) ? 10 : chance.from(low, high)));
  return codes.map((code) => String.fromCharCode(code)).join('');
};

const bomb = () => {
  const rows = ['a: &a [x, x, x, x, x, x, x, x, x]'];
  for (const [name, before] of ['ba', 'cb', 'dc', 'ed', 'fe', 'gf', 'hg'].map((pair) => [pair[0], pair[1]])) {
    rows.push(`${name}: &${name} [${Array.from({ length: 9 }, () => `*${before}`).join(', ')}]`);
  }
  return rows.join('\n');
};

// Each of these hangs, overflows or multiplies in a naive reader. The runner's own limit is the only clock.
describe('hostile files get an answer', () => {
  test.each<[string, () => string, RegExp]>([
    ['five megabytes of bytes', () => noise(50_000, 1, 255).repeat(100), /too large/],
    ['half a megabyte of bytes', () => noise(50_000, 1, 255).repeat(10), /not text/],
    [
      'a fifth of a megabyte of letters and signs',
      () => noise(50_000, 33, 126).repeat(4),
      /cannot be read|deeply/,
    ],
    ['nothing but white space', () => ' \n\t\n'.repeat(1000), /empty/],
    ['a NUL', () => 'format: \0', /not text/],
    ['an alias bomb', bomb, /unfolds|alias/i],
    ['an alias to nothing', () => 'format: *missing', /stands for nothing/],
    ['an alias to itself', () => 'a: &a [*a]', /alias|deeply|cannot be read/i],
    ['a hundred thousand brackets', () => '['.repeat(100_000), /cannot be read|deeply/],
    ['a hundred thousand braces', () => '{a: '.repeat(25_000), /cannot be read|deeply/],
    ['two documents', () => 'a: b\n---\nc: d\n', /second document/],
    ['lists in lists in lists', () => '- '.repeat(20_000), /cannot be read|deeply/],
    ['keys of keys of keys', () => '? '.repeat(20_000), /cannot be read|deeply/],
    ['closed brackets, fifty deep', () => `a: ${'['.repeat(50)}${']'.repeat(50)}`, /deeply/],
    ['thirty thousand quotes', () => '"'.repeat(30_000), /cannot be read/],
    ['one key three thousand times', () => 'a: b\n'.repeat(3_000), /not known|twice/],
    [
      'three thousand keys',
      () => Array.from({ length: 3_000 }, (_, at) => `k${at}: b`).join('\n'),
      /not known/,
    ],
    ['a list at the top', () => '- a\n- b\n', /no fields/],
    ['a word at the top', () => 'zones', /no fields/],
    [
      'tags of other types',
      () => 'format: !!binary aGVsbG8=\nzones: !!set {a, b}',
      /none of the choices|shape/,
    ],
    [
      'keys that are prototypes',
      () => '{"__proto__": {"ok": true}, "constructor": {"prototype": 1}}',
      /not known|no field/,
    ],
  ])('%s', (_title, make, says) => {
    expect(problemsOf(make()).join('\n')).toMatch(says);
  });

  test(
    'any text, any bytes, any JSON: problems, never an exception',
    () => {
      const texts = fc.oneof(
        fc.string({ maxLength: 400, unit: 'binary' }),
        fc.json({ maxDepth: 5 }),
        fc
          .array(
            fc.constantFrom(
              'zones:',
              '- ',
              '{',
              '}',
              '[',
              ']',
              ': ',
              '\n',
              '  ',
              '"',
              '&a',
              '*a',
              '#',
              '|',
              '!!x',
            ),
          )
          .map((parts) => parts.join('')),
      );
      const check = (text: string) => {
        expect(parseSurvey(text, 'any').ok).toBe(false);
        expect(parseBoard(text, 'any', 'b1').ok).toBe(false);
      };
      fc.assert(fc.property(texts, check), { seed: SEED, numRuns: scale(5000, 0.02) });
    },
    LIMIT,
  );

  test(
    'a good survey with any piece cut out or put elsewhere: a survey or problems, never an exception',
    () => {
      const chance = new Chance(SEED);
      let accepted = 0;
      for (let run = 0; run < scale(3000, 0.01); run += 1) {
        const lines = randomSurveyText(run, { zones: 3 }).split('\n');
        const from = chance.from(0, lines.length - 1);
        const piece = lines.splice(from, chance.from(1, 6));
        if (chance.is(0.5)) lines.splice(chance.from(0, lines.length), 0, ...piece);
        const read = parseSurvey(lines.join('\n'), 'cut');
        if (read.ok) accepted += 1;
        else for (const { line, says } of read.problems) expect(`${line} ${says}`).not.toBe('');
      }
      expect(accepted).toBeLessThan(scale(3000, 0.01));
    },
    LIMIT,
  );
});
