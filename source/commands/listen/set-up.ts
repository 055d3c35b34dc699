import { resolve } from 'node:path';
import type { Mapping } from '../../live/mapping.ts';
import { checkUrl, type Setup, type SourceSetup } from '../../live/setup.ts';
import type { Given } from '../command.ts';
import { Ending } from '../exit.ts';

/**
 * How the board is heard once what was given on the command line has been added to what the job knows.
 *
 * @throws Ending of kind `usage` where something given does not fit
 */
export function setUp(known: Setup, given: Given, boards: readonly string[]): Setup {
  const source = sourceOf(given) ?? known.source;
  const mapping = mappingOf(given);
  if (mapping === null) return { ...known, source };
  const board = given.text('board') ?? (boards.length === 1 ? boards[0] : undefined);
  if (board === undefined || !boards.includes(board))
    throw new Ending('usage', `Of which board is the topic? Say --board with one of ${boards.join(', ')}.`);
  const before = known.boards[board];
  return { source, boards: { ...known.boards, [board]: { ...BARE, ...before, ...mapping } } };
}

const BARE: Mapping = { topic: '', state: '', open: ['open'], closed: ['closed'], names: {}, presence: null };

function mappingOf(given: Given): Partial<Mapping> | null {
  const [topic, state] = [given.text('topic'), given.text('state')];
  const [open, closed] = [given.all('open'), given.all('closed')];
  if (topic === undefined && state === undefined && open.length + closed.length === 0) return null;
  return {
    ...(topic === undefined ? {} : { topic, names: {} }),
    ...(state === undefined ? {} : { state }),
    ...(open.length === 0 ? {} : { open }),
    ...(closed.length === 0 ? {} : { closed }),
  };
}

function sourceOf(given: Given): SourceSetup | null {
  const file = (option: string) => {
    const path = given.text(option);
    return path === undefined ? null : resolve(path);
  };
  const url = given.text('broker');
  const port = given.text('http');
  if (url !== undefined) {
    const wrong = checkUrl(url);
    if (wrong !== null) throw new Ending('usage', wrong);
    const username = given.text('username') ?? null;
    return { kind: 'mqtt', url, username, passwordFile: file('password-file'), caFile: file('ca') };
  }
  if (port === undefined) return null;
  if (!/^\d{1,5}$/.test(port) || +port < 1 || +port > 65_535)
    throw new Ending('usage', `--http ${port} is no port. Give a number from 1024 to 65535.`);
  return {
    kind: 'http',
    host: given.text('host') ?? '127.0.0.1',
    port: +port,
    tokenFile: file('token-file'),
  };
}
