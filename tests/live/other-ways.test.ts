import { request } from 'node:http';
import { afterEach, describe, expect, test } from 'vitest';
import type { Listening } from '../../source/live/listen.ts';
import { freePort, until } from './broker.ts';
import { changesOf, earsOn } from './ears.ts';

const TOKEN = 'shingle-beach-0815';
let ears: Listening | null = null;
afterEach(() => ears?.close());

function post(port: number, path: string, body: string | Buffer, method = 'POST'): Promise<number> {
  return new Promise((answered) => {
    const asked = request({ port, host: '127.0.0.1', path, method }, (response) => {
      response.resume();
      answered(response.statusCode ?? 0);
    });
    asked.on('error', () => answered(0));
    asked.end(body);
  });
}

async function onPort(env: Record<string, string>): Promise<number> {
  const port = await freePort();
  ears = await earsOn('', { source: { kind: 'http', host: '127.0.0.1', port, tokenFile: null }, env });
  return port;
}

describe('POSTs to a port of this machine', () => {
  test('with the token a state is heard, without it nothing is told', async () => {
    const port = await onPort({ LOOPWARD_HTTP_TOKEN: TOKEN });
    await until('it is open', () => ears?.look().hears === true);
    expect(await post(port, `/${TOKEN}/harbour/b1/in-4/state`, 'OPEN')).toBe(204);
    expect(await post(port, '/harbour/b1/in-5/state', 'OPEN')).toBe(404);
    expect(await post(port, `/${TOKEN}x/harbour/b1/in-5/state`, 'OPEN')).toBe(404);
    expect(await post(port, `/${TOKEN}/harbour/b1/in-5/state`, 'OPEN', 'GET')).toBe(400);
    expect(await post(port, `/${TOKEN}/harbour/%ff`, 'OPEN')).toBe(400);
    expect(await post(port, `/${TOKEN}/harbour/b1/in-5/state`, Buffer.alloc(1_000_000))).not.toBe(204);
    expect(ears && changesOf(ears.look())).toEqual(['4 open']);
  });

  test.each([[{}], [{ LOOPWARD_HTTP_TOKEN: 'short' }]])(
    'with %j for a token the port stays shut',
    async (env) => {
      await expect(onPort(env)).rejects.toThrow(/the port stays shut\. Put one into LOOPWARD_HTTP_TOKEN/);
    },
  );

  test('a port that another program has is told of', async () => {
    const port = await onPort({ LOOPWARD_HTTP_TOKEN: TOKEN });
    await until('it is open', () => ears?.look().hears === true);
    const source = { kind: 'http', host: '127.0.0.1', port, tokenFile: null } as const;
    const second = await earsOn('', { source, env: { LOOPWARD_HTTP_TOKEN: TOKEN } });
    await until('it is told', () => second.look().deaf.length > 0);
    expect(second.look().says).toBe(`Another program has 127.0.0.1:${port}. Give another port.`);
    second.close();
  });
});

test('lines: a topic and a payload each; the end of them is told', async () => {
  async function* lines() {
    yield 'harbour/b1/in-2/state OPEN';
    yield '';
    yield '  nonsense';
    yield 'harbour/b1/in-2/state CLOSED';
  }
  ears = await earsOn('', { source: { kind: 'lines', lines: lines() } });
  await until('they have ended', () => ears?.look().says?.startsWith('The lines have ended') === true);
  expect(changesOf(ears.look())).toEqual(['2 open', '2 closed']);
});
