import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import type { Board } from '../source/site/board.ts';
import { fieldName, type Written } from '../source/site/document.ts';
import { parseBoard } from '../source/site/parse-board.ts';
import { problemToText, readSurvey } from '../source/site/parse-survey.ts';
import { printWritten } from '../source/site/print-written.ts';
import type { Trouble } from '../source/site/problem.ts';
import type { Survey } from '../source/site/survey.ts';
import { RandomSite } from './random-site/random-site.ts';

export type RandomSurveyOptions = {
  /** How many zones; 1 to 8 by chance. */
  readonly zones?: number;
  /** How many detectors in all, at least one a zone; 1 to 4 a zone by chance. */
  readonly detectors?: number;
  /** Smoke, heat and the like: never, always one zone, or by chance. */
  readonly lifeSafety?: boolean;
  /** Tamper loops: never, always one, or by chance. */
  readonly tampers?: boolean;
  /** Lengths, sizes, resistors and places that nobody knows; by chance unless false. */
  readonly unknowns?: boolean;
  /** Boards with an input for every zone at least, and nothing that draws too much. True unless said. */
  readonly fits?: boolean;
};

/** A valid survey, the same for the same seed. Seeds from 0 up give every style, join and device there is. */
export function randomSurveyText(seed: number, options: RandomSurveyOptions = {}): string {
  return printWritten(randomSurveyFields(seed, options));
}

function randomSurveyFields(seed: number, options: RandomSurveyOptions = {}): Written {
  return new RandomSite(seed, options).fields();
}

/**
 * The same, read: with its boards. Skips the way over the text, which `text` makes when it is asked for.
 * Throws where a generated survey is not valid.
 */
export function randomSurvey(seed: number, options: RandomSurveyOptions = {}): RandomSurvey {
  const written = randomSurveyFields(seed, options);
  const problem = ({ at, says, accepts }: Trouble) => {
    return { file: `seed-${seed}`, line: null, field: fieldName(at, written), says, accepts };
  };
  const read = readSurvey({ written, troubles: [], problem });
  if (!read.ok) throw new Error(`${read.problems.map(problemToText).join('\n')}\n${printWritten(written)}`);
  const { survey } = read;
  const boards = survey.boards.map(({ id, file }) => shippedBoard(file, id));
  return {
    survey,
    boards,
    get text() {
      return printWritten(written);
    },
  };
}

export type RandomSurvey = {
  readonly survey: Survey;
  readonly boards: readonly Board[];
  readonly text: string;
};

/** Surveys for property tests: fast-check shrinks the number of zones, and the seed names the rest. */
export function surveyArbitrary(options: RandomSurveyOptions = {}) {
  return fc
    .record({ seed: fc.nat(1_000_000), zones: fc.integer({ min: 1, max: 10 }) })
    .map(({ seed, zones }) => {
      const { survey, boards } = randomSurvey(seed, { zones, ...options });
      return { seed, zones, survey, boards };
    });
}

const boardTexts = new Map<string, string>();

/** A board that ships, under the id it has at a site. */
export function shippedBoard(name: string, id = 'b1'): Board {
  const path = new URL(`../fixtures/boards/${name}.yaml`, import.meta.url);
  const text = boardTexts.get(name) ?? readFileSync(path, 'utf8');
  boardTexts.set(name, text);
  const read = parseBoard(text, `${name}.yaml`, id);
  if (!read.ok) throw new Error(read.problems.map(problemToText).join('\n'));
  return read.board;
}
