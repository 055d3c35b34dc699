import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const PACKAGE = '@duckdb/node-api@1.5.6-r.1';

/** What is used of the engine; its types are not installed with ours. */
export type Engine = {
  readonly run: (sql: string) => Promise<unknown>;
  readonly runAndReadAll: (sql: string) => Promise<{ getRowObjectsJson: () => Record<string, unknown>[] }>;
  readonly closeSync: () => void;
};

/**
 * DuckDB, installed beside the packages when it is first asked for: 70 MB that only the proof needs.
 *
 * @throws Error in one sentence where npm cannot reach its registry
 */
export async function openDuckDb(): Promise<Engine> {
  const folder = fileURLToPath(new URL('../../node_modules/.cache/duckdb', import.meta.url));
  const require = createRequire(join(folder, 'index.js'));
  try {
    require.resolve('@duckdb/node-api');
  } catch {
    mkdirSync(folder, { recursive: true });
    install(folder);
  }
  const { DuckDBInstance } = require('@duckdb/node-api') as {
    DuckDBInstance: { create: (path: string) => Promise<{ connect: () => Promise<Engine> }> };
  };
  return (await DuckDBInstance.create(':memory:')).connect();
}

function install(folder: string): void {
  try {
    execFileSync('npm', ['install', '--prefix', folder, '--no-save', '--no-audit', '--no-fund', PACKAGE], {
      stdio: 'pipe',
      timeout: 120_000,
    });
  } catch (error) {
    const says = String((error as { stderr?: Buffer }).stderr ?? error)
      .trim()
      .split('\n')[0];
    throw new Error(
      `The proof of the query file needs ${PACKAGE}, which npm could not install (${says}). Connect to the network and run the proof again; all else has run without it.`,
    );
  }
}
