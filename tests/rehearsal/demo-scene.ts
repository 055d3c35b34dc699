import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Scene } from '../../source/rehearsal/building/faults/fault.ts';
import { parseBoard } from '../../source/site/parse-board.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { wiringAsFound } from '../../source/site/wiring-as-found.ts';

// From the repository's top, where tests and benches are run: a bundled bench has no place of its own.
const fixtures = resolve('fixtures');

export const demoText = readFileSync(resolve(fixtures, 'sailing-club/survey.yaml'), 'utf8');

export function boardText(name: string): string {
  return readFileSync(resolve(fixtures, `boards/${name}.yaml`), 'utf8');
}

/** A site from the text of its survey and the generic boards it gets, `b1` first. */
export function sceneOf(text: string, boards: readonly string[]): Scene {
  const parsed = parseSurvey(text, 'survey.yaml');
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
  const read = boards.map((name, index) => {
    const board = parseBoard(boardText(name), `${name}.yaml`, `b${index + 1}`);
    if (!board.ok) throw new Error(JSON.stringify(board.problems));
    return board.board;
  });
  return { survey: parsed.survey, wiring: wiringAsFound(parsed.survey), boards: read };
}

export const demoScene = (): Scene => sceneOf(demoText, ['eight-paired']);
