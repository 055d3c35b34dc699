import { join } from 'node:path';
import * as z from 'zod/mini';
import { readWhole, writeWhole } from '../job/write-whole.ts';
import type { Mapping } from './mapping.ts';

// Checked once: to compile its schema to code first takes longer.
z.config({ jitless: true });

/** Where the board of a job is heard, and how it tells its inputs. No secret stands in it. */
export type Setup = {
  readonly source: SourceSetup | null;
  /** By board id. A board without one is heard where it follows the Homie convention. */
  readonly boards: Readonly<Record<string, Mapping>>;
};

export type SourceSetup =
  | {
      readonly kind: 'mqtt';
      readonly url: string;
      readonly username: string | null;
      readonly passwordFile: string | null;
      readonly caFile: string | null;
    }
  | {
      readonly kind: 'http';
      readonly host: string;
      readonly port: number;
      readonly tokenFile: string | null;
    };

export const NO_SETUP: Setup = { source: null, boards: {} };
const FILE = 'live.json';
const FORMAT = 'loopward/live@1';

const text = (longest = 1024) =>
  z.string().check(
    z.maxLength(longest),
    z.refine((one) => !/\p{Cc}/u.test(one)),
  );
const texts = () => z.array(text(100)).check(z.minLength(1), z.maxLength(10));

const schema = () => {
  const mapping = z.object({
    topic: text(),
    state: z._default(text(), ''),
    open: texts(),
    closed: texts(),
    names: z._default(z.record(text(24), text(200)), {}),
    presence: z._default(z.nullable(z.object({ topic: text(), here: texts(), gone: texts() })), null),
  });
  const path = () => z._default(z.nullable(text(4096)), null);
  const source = z.union([
    z.object({
      kind: z.literal('mqtt'),
      url: text(),
      username: path(),
      passwordFile: path(),
      caFile: path(),
    }),
    z.object({
      kind: z.literal('http'),
      host: z._default(text(), '127.0.0.1'),
      port: z.int().check(z.minimum(1), z.maximum(65_535)),
      tokenFile: path(),
    }),
  ]);
  return z.object({
    format: z.literal(FORMAT),
    source: z._default(z.nullable(source), null),
    boards: z._default(z.record(text(24), mapping), {}),
  });
};

/**
 * How the board of a job is heard, as it was set up in this job; nothing where it never was.
 *
 * @returns the setup, or a sentence of what is wrong with its file and one of what to do
 */
export function readSetup(dir: string): Setup | string {
  const held = readWhole(join(dir, FILE));
  if (held === null) return NO_SETUP;
  const read = schema().safeParse(held);
  if (!read.success) {
    const [issue] = read.error.issues;
    const field = issue?.path.map(String).join('.') || 'format';
    return `${join(dir, FILE)}: the field "${field}" is missing or not of the right kind. Set the listening up anew.`;
  }
  const { source, boards } = read.data;
  const wrong = source?.kind === 'mqtt' ? checkUrl(source.url) : null;
  return wrong ?? { source, boards };
}

/** Keeps how the board of a job is heard. */
export function writeSetup(dir: string, setup: Setup): void {
  writeWhole(join(dir, FILE), `${JSON.stringify({ format: FORMAT, ...setup }, null, 2)}\n`);
}

/**
 * Why an address of a broker cannot be taken, and what to do; null where it can.
 *
 * @example checkUrl('mqtt://127.0.0.1:1883') // => null
 */
export function checkUrl(typed: string): string | null {
  if (!URL.canParse(typed))
    return `"${typed}" is no address of a broker. Give one such as mqtt://192.168.1.20:1883.`;
  const url = new URL(typed);
  if (url.protocol !== 'mqtt:' && url.protocol !== 'mqtts:')
    return 'A broker is reached by mqtt: or mqtts:. Give an address such as mqtt://192.168.1.20:1883.';
  if (url.password !== '' || url.username !== '')
    return 'The address holds a user or a password, and it is kept in the job. Leave them out: the user has its own field, the password goes into LOOPWARD_MQTT_PASSWORD or a file.';
  if (url.hostname === '') return 'The address names no machine. Give one such as mqtt://192.168.1.20:1883.';
  return null;
}
