import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { Listening } from '../../source/live/listen.ts';
import { type Broker, freePort, MOSQUITTO, startBroker, until } from './broker.ts';
import { changesOf, earsOn } from './ears.ts';

describe.skipIf(MOSQUITTO === null)('a real broker (mosquitto)', { timeout: 60_000 }, () => {
  let broker: Broker;
  let board: MqttClient;
  let ears: Listening;
  beforeAll(async () => {
    broker = await startBroker();
  });
  afterEach(async () => {
    ears?.close();
    await board?.endAsync(true);
  });
  afterAll(() => broker.remove());

  const tell = (input: number, state: string, retain = false) =>
    board.publishAsync(`harbour/b1/in-${input}/state`, state, { qos: 1, retain });

  test.each([4, 5] as const)(
    'what a board tells is heard (MQTT version %i of the board)',
    async (protocolVersion) => {
      board = await connectAsync(broker.url, { protocolVersion });
      ears = await earsOn(broker.url);
      await until('it hears', () => ears.look().hears);
      await tell(3, 'OPEN');
      await tell(3, 'CLOSED');
      await tell(3, 'CLOSED');
      await until('both were heard', () => ears.look().messages >= 3);
      expect(changesOf(ears.look())).toEqual(['3 open', '3 closed']);
      expect(ears.look().inputs.get('b1/3')).toMatchObject({ state: 'closed', kept: false });
    },
  );

  test('what the broker kept from yesterday is shown as kept, and is no news', async () => {
    board = await connectAsync(broker.url);
    await tell(5, 'OPEN', true);
    ears = await earsOn(broker.url);
    await until('the kept state came', () => ears.look().inputs.has('b1/5'));
    expect(ears.look().inputs.get('b1/5')).toMatchObject({ state: 'open', kept: true });
    expect(ears.look().changes).toEqual([]);
    // It is said now that it is open: that is heard, although the broker had said so.
    await tell(5, 'OPEN', true);
    await until('it was heard', () => ears.look().changes.length === 1);
    expect(ears.look().inputs.get('b1/5')).toMatchObject({ state: 'open', kept: false });
    await tell(5, '', true);
  });

  test('while the broker is gone nothing is heard, and it is told how long; afterwards it hears again', async () => {
    const own = await startBroker();
    board = await connectAsync(own.url, { reconnectPeriod: 50 });
    ears = await earsOn(own.url);
    await until('it hears', () => ears.look().hears);
    await tell(1, 'OPEN');
    await until('it was heard', () => ears.look().changes.length === 1);
    await own.stop();
    await until('it is deaf', () => !ears.look().hears);
    expect(ears.look().says).toMatch(/^The connection to 127\.0\.0\.1:\d+ is lost\./);
    expect(ears.look().inputs.get('b1/1')).toMatchObject({ kept: true });
    await own.start();
    await until('it hears again', () => ears.look().hears);
    const [gap] = ears.look().deaf;
    expect(ears.look().deaf).toHaveLength(1);
    expect(gap?.toMilliseconds).toBeGreaterThan(gap?.fromMilliseconds ?? Number.POSITIVE_INFINITY);
    await until('the board is back', () => board.connected);
    await tell(1, 'CLOSED');
    await until('it was heard', () => ears.look().changes.length === 2);
    await own.remove();
  });

  test('the last will of a board tells that it is gone', async () => {
    const will = { topic: 'harbour/b1/line', payload: Buffer.from('down'), qos: 1, retain: true } as const;
    board = await connectAsync(broker.url, { will, reconnectPeriod: 0 });
    await board.publishAsync('harbour/b1/line', 'up', { retain: true });
    ears = await earsOn(broker.url);
    await until('it is there', () => ears.look().presence.at(-1)?.here === true);
    board.stream.destroy();
    await until('it is gone', () => ears.look().presence.at(-1)?.here === false);
  });
});

describe.skipIf(MOSQUITTO === null)('a broker with TLS and a password', { timeout: 60_000 }, () => {
  const user = { name: 'walker', password: 'tide-table-27' };
  let broker: Broker;
  let ears: Listening | null = null;
  const folder = mkdtempSync(join(tmpdir(), 'loopward-secret-'));
  beforeAll(async () => {
    broker = await startBroker({ tls: true, user, mayRead: 'harbour/#' });
  });
  afterEach(() => {
    ears?.close();
    ears = null;
  });
  afterAll(async () => {
    rmSync(folder, { recursive: true, force: true });
    await broker.remove();
  });
  const says = async (more: Parameters<typeof earsOn>[1], url = broker.url): Promise<string> => {
    try {
      ears = await earsOn(url, more);
    } catch (error) {
      return (error as Error).message;
    }
    const open = ears;
    await until('it says how it is', () => open.look().hears || open.look().deaf.length > 0);
    return open.look().says ?? 'hears';
  };
  const known = () => ({ user: user.name, caFile: broker.caFile });

  test('hears with the password from the environment, and from a file of its own', async () => {
    expect(await says({ ...known(), env: { LOOPWARD_MQTT_PASSWORD: user.password } })).toBe('hears');
    ears?.close();
    const passwordFile = join(folder, 'password');
    writeFileSync(passwordFile, `${user.password}\n`, { mode: 0o600 });
    const source = {
      kind: 'mqtt',
      url: broker.url,
      username: user.name,
      passwordFile,
      caFile: broker.caFile,
    } as const;
    expect(await says({ source })).toBe('hears');
  });

  test('a file that others may read is not taken', async () => {
    const passwordFile = join(folder, 'open-password');
    writeFileSync(passwordFile, user.password, { mode: 0o644 });
    const source = {
      kind: 'mqtt',
      url: broker.url,
      username: user.name,
      passwordFile,
      caFile: broker.caFile,
    } as const;
    expect(await says({ source })).toBe(
      `Others may read ${passwordFile}. Take that from them: chmod 600 ${passwordFile}`,
    );
  });

  test.each([
    [
      'a wrong password',
      () => ({ ...known(), env: { LOOPWARD_MQTT_PASSWORD: 'wrong' } }),
      /^The broker (refuses this user or password|lets this user not in)\. Check/,
    ],
    [
      'no password',
      () => known(),
      /^The broker (refuses this user or password|lets this user not in)\. Check/,
    ],
    [
      'an authority that nobody knows',
      () => ({ user: user.name }),
      /^The certificate of localhost:\d+ is signed by nobody known here\. Give the file/,
    ],
    [
      'a certificate file that is none',
      () => ({ ...known(), caFile: '/nowhere/ca.pem' }),
      /cannot be read\. Give the path of a PEM file\.$/,
    ],
  ])('%s is told in one sentence with what to do', async (_, more, expected) => {
    const told = await says(more());
    expect(told).toMatch(expected);
    expect(told).not.toContain(user.password);
  });

  test('no TLS where TLS is spoken, and the other way round', async () => {
    expect(await says(known(), broker.url.replace('mqtts', 'mqtt'))).toMatch(/Look whether|Give mqtt/);
    ears?.close();
    const bare = await startBroker();
    expect(await says(known(), bare.url.replace('mqtt:', 'mqtts:'))).toMatch(
      /Look whether|does not speak TLS there/,
    );
    await bare.remove();
  });
});

describe('a broker that is not there', { timeout: 60_000 }, () => {
  test('nothing answers: one sentence of what is so and one of what to do', async () => {
    const ears = await earsOn(`mqtt://127.0.0.1:${await freePort()}`);
    await until('it is told', () => ears.look().deaf.length > 0);
    expect(ears.look().says).toMatch(
      /^Nothing answers at 127\.0\.0\.1:\d+\. Look whether the broker runs, and whether address and port are right\.$/,
    );
    ears.close();
  });
});
