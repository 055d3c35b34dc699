import { once } from 'node:events';
import { createServer, type Server, type Socket } from 'node:net';
import { connectAsync } from 'mqtt';
import { afterEach, describe, expect, test } from 'vitest';
import type { Listening } from '../../source/live/listen.ts';
import { report, scale } from '../scale.ts';
import { MOSQUITTO, startBroker, until } from './broker.ts';
import { changesOf, earsOn } from './ears.ts';

// Packets by hand, from OASIS MQTT 3.1.1, 2.2 and 3: a library would refuse to make some of them.
const length = (bytes: number): number[] =>
  bytes < 128 ? [bytes] : [(bytes % 128) | 0x80, ...length(Math.floor(bytes / 128))];
function publish(topic: Buffer, payload: Buffer): Buffer {
  const rest = Buffer.concat([Buffer.from([topic.length >> 8, topic.length & 255]), topic, payload]);
  return Buffer.concat([Buffer.from([0x30, ...length(rest.length)]), rest]);
}
const CONNACK = { taken: Buffer.from([0x20, 2, 0, 0]), version: Buffer.from([0x20, 2, 0, 1]) };

/** A server that speaks 3.1.1 by hand and, once somebody has subscribed, sends what it likes. */
async function rogue(send: (socket: Socket) => void): Promise<{ server: Server; url: string }> {
  const server = createServer((socket) => {
    socket.on('error', () => {});
    socket.on('data', (data) => {
      if (data[0] === 0x10) {
        // The protocol level stands behind the name: 4 is 3.1.1, 5 is answered as 3.1.1 asks in 3.1.2.2.
        const level = data[data.indexOf('MQTT') + 4];
        socket.write(level === 4 ? CONNACK.taken : CONNACK.version);
        if (level !== 4) socket.end();
      } else if ((data[0] ?? 0) >> 4 === 8) {
        const count = [...data.toString('latin1').matchAll(/harbour/g)].length;
        socket.write(Buffer.from([0x90, 2 + count, data[2] ?? 0, data[3] ?? 0, ...Array(count).fill(0)]));
        send(socket);
      }
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as { port: number };
  return { server, url: `mqtt://127.0.0.1:${port}` };
}

let ears: Listening;
let server: Server;
afterEach(() => {
  ears?.close();
  server?.close();
});
const good = publish(Buffer.from('harbour/b1/in-1/state'), Buffer.from('OPEN'));

describe('a broker that means harm, or is broken', { timeout: 120_000 }, () => {
  test('a flood neither fills the memory nor is told message by message', async () => {
    const total = scale(100_000, 0.1);
    let told = 0;
    const flood = Buffer.concat(
      Array.from({ length: 100 }, (_, at) =>
        publish(Buffer.from(`harbour/b1/in-${(at % 8) + 1}/state`), Buffer.from(at % 3 ? 'OPEN' : 'CLOSED')),
      ),
    );
    const made = await rogue((socket) => {
      for (let sent = 0; sent < total; sent += 100) socket.write(flood);
    });
    server = made.server;
    ears = await earsOn(made.url, { onHeard: () => told++ });
    const began = Date.now();
    await until('all of it was taken', () => ears.look().messages >= total, 60_000);
    const seconds = (Date.now() - began) / 1000;
    const { changes } = ears.look();
    // Twenty single changes a second and input are logged; the others are counted on them.
    expect(changes.length).toBeLessThanOrEqual(8 * 21 * (Math.ceil(seconds) + 1));
    expect(changes.reduce((sum, { more }) => sum + more, changes.length)).toBeGreaterThan(total / 4);
    expect(told).toBeLessThan(total / 100);
    report('a flood', [
      { messages: total, seconds, perSecond: Math.round(total / seconds), logged: changes.length, told },
    ]);
  });

  test('10 MB in one message are dropped, and what comes after is heard (3.1.1, which knows no limit)', async () => {
    const made = await rogue((socket) => {
      socket.write(publish(Buffer.from('harbour/b1/in-2/state'), Buffer.alloc(10_000_000, 0x4f)));
      socket.write(good);
    });
    server = made.server;
    ears = await earsOn(made.url);
    await until('what came after was heard', () => ears.look().changes.length > 0);
    expect(changesOf(ears.look())).toEqual(['1 open']);
    expect(ears.look().unread).toBe(1);
  });

  test('topics that may not be, and text that is none, are passed over and reach nothing', async () => {
    const bad: [Buffer, Buffer][] = [
      [Buffer.from('harbour/b1/in-+/state'), Buffer.from('OPEN')],
      [Buffer.from('harbour/b1/in-#/state'), Buffer.from('OPEN')],
      [Buffer.from('harbour/b1/in-2/sta\u0000te'), Buffer.from('OPEN')],
      [Buffer.from('harbour/b1/in-\u001b]0;x\u0007/state'), Buffer.from('OPEN')],
      [Buffer.from([0x68, 0xff, 0xfe, 0x2f]), Buffer.from('OPEN')],
      [Buffer.from('harbour/b1/in-2/state'), Buffer.from([0xff, 0xc0, 0x80])],
      [Buffer.from('harbour/b1/in-2/state'), Buffer.from('\u001b[2JOPEN')],
    ];
    const made = await rogue((socket) => {
      for (const [topic, payload] of bad) socket.write(publish(topic, payload));
      socket.write(good);
    });
    server = made.server;
    ears = await earsOn(made.url);
    await until('what came after was heard', () => ears.look().changes.length > 0);
    const heard = ears.look();
    expect(changesOf(heard)).toEqual(['1 open']);
    expect(JSON.stringify([heard.changes, heard.says, heard.deaf])).not.toMatch(/u001b|\\u0000/);
  });

  test('what is no MQTT at all ends the connection with a sentence, and it is tried again', async () => {
    let calls = 0;
    server = createServer((socket) => {
      calls++;
      socket.on('error', () => {});
      socket.write('HTTP/1.1 400 Bad Request\r\n\r\n');
    });
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    const { port } = server.address() as { port: number };
    ears = await earsOn(`mqtt://127.0.0.1:${port}`);
    await until('it was tried again', () => calls >= 2);
    expect(ears.look().says).toMatch(/^127\.0\.0\.1:\d+ .*\. Look whether .*\.$/);
  });

  test('a server that never answers is told of, and called seldom', async () => {
    let calls = 0;
    const sockets: Socket[] = [];
    server = createServer((socket) => {
      calls++;
      sockets.push(socket);
      socket.on('error', () => {});
    });
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    const { port } = server.address() as { port: number };
    ears = await earsOn(`mqtt://127.0.0.1:${port}`, { answerMilliseconds: 200 });
    await until('it is told', () => ears.look().deaf.length > 0);
    expect(ears.look().says).toBe(
      `127.0.0.1:${port} took the call and never answers as a broker does. Look whether this is the broker's port.`,
    );
    expect(calls).toBeLessThanOrEqual(2);
    ears.close();
    for (const socket of sockets) socket.destroy();
  });
});

describe.skipIf(MOSQUITTO === null)('through a real broker', { timeout: 60_000 }, () => {
  test('10 MB in one message never leave it (MQTT 5.0, 3.1.2.11.4)', async () => {
    const broker = await startBroker();
    const board = await connectAsync(broker.url);
    ears = await earsOn(broker.url);
    await until('it hears', () => ears.look().hears);
    await board.publishAsync('harbour/b1/in-2/state', Buffer.alloc(10_000_000, 0x4f), { qos: 1 });
    await board.publishAsync('harbour/b1/in-1/state', 'OPEN', { qos: 1 });
    await until('what came after was heard', () => ears.look().changes.length > 0);
    expect(ears.look()).toMatchObject({ messages: 1, unread: 0, hears: true });
    await board.endAsync(true);
    await broker.remove();
  });
});
