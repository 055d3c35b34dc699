import { statSync } from 'node:fs';
import { dirname, isAbsolute, join } from 'node:path';
import { bundledBoard } from './bundled.ts';

/** Where boards are looked for: beside the survey that names them; those `named` instead, from where one stands. */
export function boardsFolder(surveyFile: string, named: readonly string[]): string {
  return named.length > 0 ? '.' : dirname(surveyFile);
}

/** The path of a board by its file, with or without its ending, or by the id of one that ships. */
export function boardPath(file: string, folder: string): string {
  const beside = isAbsolute(file) ? file : join(folder, file);
  if (isFile(beside)) return beside;
  if (isFile(`${beside}.yaml`)) return `${beside}.yaml`;
  return bundledBoard(file) ?? beside;
}

/** Whether a file stands there, and no folder or other thing. */
export function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
}
