import type { Board } from '../site/board.ts';
import { boardProblems } from '../site/check-boards.ts';
import { parseBoard } from '../site/parse-board.ts';
import { type Problem, parseSurvey } from '../site/parse-survey.ts';
import type { Survey } from '../site/survey.ts';
import { boardPath, boardsFolder } from './board-path.ts';
import { bundledBoards } from './bundled.ts';
import { readTextFile } from './read-text.ts';

/** A board as it was read: under its id at this site, with its whole text. */
export type BoardFile = { readonly id: string; readonly file: string; readonly text: string };

/** A survey and its boards as read from the disk: the texts, and what they say. */
export type SiteFiles = {
  readonly surveyFile: string;
  readonly surveyText: string;
  readonly survey: Survey;
  readonly boardFiles: readonly BoardFile[];
  readonly boards: readonly Board[];
};

/** A site, or all that is wrong with its files. */
export type SiteRead =
  | { readonly ok: true; readonly site: SiteFiles }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Reads a survey and the boards it names. Boards given beside it stand in for those of the survey, in its order.
 *
 * @param boards files, or ids of boards that ship
 */
export function readSiteFiles(surveyFile: string, boards: readonly string[]): SiteRead {
  const read = readText(surveyFile);
  if (!read.ok) return { ok: false, problems: [read.problem] };
  const parsed = parseSurvey(read.text, surveyFile);
  const named = boards.map((file, i) => ({ id: surveyBoardId(parsed.ok ? parsed.survey : null, i), file }));
  if (!parsed.ok) return { ok: false, problems: [...parsed.problems, ...readBoardFiles(named).problems] };
  const { survey } = parsed;
  const wanted = boards.length > 0 ? named : survey.boards;
  if (wanted.length === 0 && survey.complete) return { ok: false, problems: [noBoard(surveyFile)] };
  const found = readBoardFiles(wanted, boardsFolder(surveyFile, boards));
  if (found.problems.length > 0) return { ok: false, problems: found.problems };
  const between = boardProblems(survey, found.boards, read.text, surveyFile);
  if (between.length > 0) return { ok: false, problems: between };
  const site = { surveyFile, surveyText: read.text, survey, boardFiles: found.files, boards: found.boards };
  return { ok: true, site };
}

/** Reads boards by file or by the id of one that ships, and what is wrong with them. */
export function readBoardFiles(
  wanted: readonly { readonly id: string; readonly file: string }[],
  folder = '.',
): { files: BoardFile[]; boards: Board[]; problems: Problem[] } {
  const files: BoardFile[] = [];
  const boards: Board[] = [];
  const problems: Problem[] = [];
  for (const { id, file } of wanted) {
    const read = readText(boardPath(file, folder));
    if (!read.ok) {
      problems.push({ ...read.problem, file, field: 'boards', accepts: boardsAccepted() });
      continue;
    }
    const parsed = parseBoard(read.text, file, id);
    if (parsed.ok) {
      files.push({ id, file, text: read.text });
      boards.push(parsed.board);
    } else problems.push(...parsed.problems);
  }
  return { files, boards, problems };
}

function boardsAccepted(): string {
  return `a board file, or the id of one that ships: ${bundledBoards().join(', ')}`;
}

function surveyBoardId(survey: Survey | null, index: number): string {
  return survey?.boards[index]?.id ?? `b${index + 1}`;
}

function noBoard(file: string): Problem {
  return { file, line: null, field: 'boards', says: 'No board is named.', accepts: boardsAccepted() };
}

function readText(file: string): { ok: true; text: string } | { ok: false; problem: Problem } {
  const read = readTextFile(file);
  if (read.ok) return read;
  const { says, accepts } = read;
  return { ok: false, problem: { file, line: null, field: '', says, accepts } };
}
