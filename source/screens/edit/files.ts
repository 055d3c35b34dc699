import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { readDraft, writeDraft } from '../../job/draft.ts';
import { readSiteFiles } from '../../job/site-files.ts';
import { writeWhole } from '../../job/write-whole.ts';
import { parseSurvey } from '../../site/parse-survey.ts';
import type { EditDraft } from './state.ts';

/** The draft of one survey file: in a dot-folder, which is no job. */
function draftFolder(jobsFolder: string, file: string): string {
  return join(jobsFolder, '.edits', createHash('sha256').update(resolve(file)).digest('hex').slice(0, 16));
}

/** Opens a survey file to be changed, as far as it was changed already; a sentence where it cannot be read. */
export function openSurveyFile(jobsFolder: string, file: string): EditDraft | string {
  const path = resolve(file);
  const kept = readKept(jobsFolder, path);
  if (kept) return kept;
  const read = readSiteFiles(path, []);
  const text = existsSync(path) && read.ok ? read.site.surveyText : null;
  if (text !== null) return { original: text, text, asking: null, place: null };
  const [problem] = read.ok ? [] : read.problems;
  if (!problem) return `${path} cannot be read.`;
  const line = problem.line === null ? '' : `, line ${problem.line}`;
  return `${problem.file}${line}: ${problem.says} Accepted: ${problem.accepts}.`;
}

function readKept(jobsFolder: string, path: string): EditDraft | null {
  const { original, text, asking, place } = readDraft(draftFolder(jobsFolder, path))?.answers ?? {};
  if (original === undefined || text === undefined || !parseSurvey(text, path).ok) return null;
  return { original, text, place: place || null, asking: asking ? JSON.parse(asking) : null };
}

/** Keeps what was changed so far, or with null forgets it. */
export function keepSurveyEdit(jobsFolder: string, file: string, draft: EditDraft | null): void {
  const dir = draftFolder(jobsFolder, file);
  if (draft === null) {
    rmSync(dir, { recursive: true, force: true });
    return;
  }
  mkdirSync(dir, { recursive: true, mode: 0o700 });
  const { original, text, place, asking } = draft;
  const answers = {
    original,
    text,
    place: place ?? '',
    asking: asking === null ? '' : JSON.stringify(asking),
  };
  writeDraft(dir, { screen: 'edit', about: resolve(file), answers });
}

/**
 * Saves a changed survey in its file; the text that stood there stays beside it. Where somebody else changed the
 * file meanwhile, both stay: this one gets a name of its own.
 *
 * @returns where it stands now, and where the earlier text does
 */
export function saveSurveyEdit(
  jobsFolder: string,
  file: string,
  original: string,
  text: string,
): { readonly file: string; readonly before: string | null } {
  const path = resolve(file);
  const now = existsSync(path) ? readFileSync(path, 'utf8') : null;
  let saved: { file: string; before: string | null };
  if (now !== null && now !== original) {
    saved = { file: freeName(path, 'changed'), before: null };
    writeFileSync(saved.file, text, { mode: 0o600, flag: 'wx' });
  } else if (text === original) {
    saved = { file: path, before: null };
  } else {
    const before = freeName(path, 'before');
    writeFileSync(before, original, { mode: 0o600, flag: 'wx' });
    writeWhole(path, text);
    saved = { file: path, before };
  }
  keepSurveyEdit(jobsFolder, file, null);
  return saved;
}

function freeName(path: string, word: string): string {
  const end = extname(path);
  const stem = join(dirname(path), basename(path, end));
  for (let number = 1; ; number++) {
    const name = `${stem}.${word}${number === 1 ? '' : `-${number}`}${end}`;
    if (!existsSync(name)) return name;
  }
}
