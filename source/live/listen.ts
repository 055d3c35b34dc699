import { Ear, type Heard } from './ear.ts';
import { HOMIE_FILTERS, HomieDevices, mappingOfHomie } from './homie.ts';
import { openHttp } from './http-source.ts';
import { openLines } from './line-source.ts';
import { type Mapping, type Reader, readMapping } from './mapping.ts';
import type { Message, Source, SourceEvent } from './message.ts';
import { openMqtt } from './mqtt-source.ts';
import { readCa, readPassword, readToken } from './secrets.ts';
import type { Setup, SourceSetup } from './setup.ts';

/** A board whose inputs are heard. */
export type HeardBoard = { readonly id: string; readonly inputs: readonly string[] };

export type Listening = {
  readonly look: () => Heard;
  /** Takes mappings anew, as after learning. @returns null, or what is wrong and what to do */
  readonly mapTo: (mappings: Setup['boards']) => Promise<string | null>;
  /** Hears every topic and hands out each message, to learn a mapping; null ends it. */
  readonly tap: (to: ((message: Message) => void) | null) => void;
  readonly close: () => void;
};

export type ListenOptions = {
  readonly source: SourceSetup | { readonly kind: 'lines'; readonly lines: AsyncIterable<string> };
  readonly mappings: Setup['boards'];
  readonly boards: readonly HeardBoard[];
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Something was heard. Many messages are told of at once. */
  readonly onHeard: () => void;
  /** How long a broker may take to answer, if not the usual time. */
  readonly answerMilliseconds?: number;
  /** The time of day at which something is heard, if not that of the computer. */
  readonly now?: () => number;
};

/** News is told at most so often, however many messages come. */
const TOLD_MILLISECONDS = 100;

/**
 * Listens to the boards of a job. It opens the network it was asked to open, once, and nothing else.
 *
 * @returns what is heard from now on, or what is wrong and what to do
 */
export async function listen(options: ListenOptions): Promise<Listening | string> {
  const { boards, onHeard } = options;
  let readers = new Map<string, Reader>();
  let tapped: ((message: Message) => void) | null = null;
  let waiting: NodeJS.Timeout | null = null;
  let remapping: NodeJS.Timeout | null = null;
  let isOver = false;
  const homie = new HomieDevices();

  async function readersOf(mappings: Setup['boards']): Promise<Map<string, Reader> | string> {
    const made = new Map<string, Reader>();
    for (const { id, inputs } of boards) {
      const mapping = mappings[id] ?? foundByHomie(inputs);
      if (mapping === undefined) continue;
      const reader = await readMapping(mapping, inputs);
      if (typeof reader === 'string') return `Board ${id}: ${reader}`;
      made.set(id, reader);
    }
    return made;
  }

  // Two boards of one kind would both be found in it: which is which is then to be learned.
  function foundByHomie(inputs: readonly string[]): Mapping | undefined {
    if (boards.length > 1) return undefined;
    const found = mappingOfHomie(homie.properties(), inputs);
    return found?.isSure ? found.mapping : undefined;
  }

  let mappings = options.mappings;
  const isWithout = () => boards.some(({ id }) => !readers.has(id));
  const first = await readersOf(mappings);
  if (typeof first === 'string') return first;
  readers = first;
  const ear = new Ear(placeOf(options.source));
  const opened = await openSource(options, take);
  if (typeof opened === 'string') return opened;
  const source: Source = opened;
  ask();

  function ask(): void {
    const own = [...readers.values()].flatMap(({ filters }) => filters);
    const convention = isWithout() ? HOMIE_FILTERS : [];
    source.listenTo(tapped ? ['#'] : [...new Set([...own, ...convention])]);
  }

  function take(event: SourceEvent): void {
    if (isOver) return;
    if (event.is === 'message') takeMessage(event.message);
    else {
      const at = options.now?.() ?? event.atMilliseconds;
      if (event.is === 'hearing') ear.hearing(at);
      else ear.deafened(at, event.says, event.isOver);
    }
    tell();
  }

  function takeMessage(message: Message): void {
    tapped?.(message);
    const at = options.now?.() ?? message.atMilliseconds;
    for (const [board, reader] of readers) {
      const told = reader.read(message);
      if (told.length > 0) ear.take(board, told, at, message.kept);
    }
    if (message.topic.startsWith('homie/') && isWithout() && homie.take(message)) mapSoon();
  }

  // A device tells what it is in many messages.
  function mapSoon(): void {
    remapping ??= setTimeout(() => {
      remapping = null;
      void mapByHomie();
    }, TOLD_MILLISECONDS);
  }

  async function mapByHomie(): Promise<void> {
    const again = await readersOf(mappings);
    if (typeof again === 'string' || isOver) return;
    readers = again;
    ask();
  }

  function tell(): void {
    waiting ??= setTimeout(() => {
      waiting = null;
      if (!isOver) onHeard();
    }, TOLD_MILLISECONDS);
  }

  return {
    look: () => ear.look(),
    mapTo: async (wanted) => {
      const again = await readersOf(wanted);
      if (typeof again === 'string') return again;
      mappings = wanted;
      readers = again;
      ask();
      return null;
    },
    tap: (to) => {
      tapped = to;
      ask();
    },
    close: () => {
      isOver = true;
      if (waiting) clearTimeout(waiting);
      if (remapping) clearTimeout(remapping);
      source.close();
    },
  };
}

/** Where it listens, for people to read. */
function placeOf(source: ListenOptions['source']): string {
  if (source.kind === 'lines') return 'standard input';
  return source.kind === 'mqtt' ? source.url : `http://${source.host}:${source.port}`;
}

async function openSource(
  { source, env, answerMilliseconds }: ListenOptions,
  on: (event: SourceEvent) => void,
): Promise<Source | string> {
  switch (source.kind) {
    case 'lines':
      return openLines(source.lines, on);
    case 'http': {
      const token = readToken(source.tokenFile, env);
      if (!token.ok) return token.says;
      return openHttp({ host: source.host, port: source.port, token: token.value ?? '' }, on);
    }
    case 'mqtt': {
      const password = readPassword(source.passwordFile, env);
      if (!password.ok) return password.says;
      const ca = readCa(source.caFile);
      if (!ca.ok) return ca.says;
      const { url, username } = source;
      return openMqtt({ url, username, password: password.value, ca: ca.value }, on, answerMilliseconds);
    }
  }
}
