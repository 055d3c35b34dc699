import { existsSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The only place that knows where the files that ship stand: beside `dist/`, or two up from here. */
const FIXTURES = ['../fixtures/', '../../fixtures/']
  .map((path) => fileURLToPath(new URL(path, import.meta.url)))
  .find((path) => existsSync(path));

/**
 * The path of a file that ships with the program.
 *
 * @param path below `fixtures`: `boards/six-paired.yaml`
 */
export function bundledFile(path: string): string {
  return `${FIXTURES ?? ''}${path}`;
}

/** The path of a generic board that ships, or null where there is none of that id. */
export function bundledBoard(id: string): string | null {
  if (!/^[a-z0-9][a-z0-9-]{0,23}$/.test(id)) return null;
  const path = bundledFile(`boards/${id}.yaml`);
  return existsSync(path) ? path : null;
}

/** Ids of the generic boards that ship. */
export function bundledBoards(): string[] {
  const files = readdirSync(bundledFile('boards')).filter((name) => name.endsWith('.yaml'));
  return files.map((name) => name.slice(0, -'.yaml'.length)).sort();
}

/** The survey of the demo, as {@link bundledFile} takes it. */
export const DEMO_SURVEY = 'sailing-club/survey.yaml';
