import { isTopicName, type Message } from './message.ts';
import { readStatePath } from './state-path.ts';
import { INPUT_MARK, readPattern } from './topic.ts';

export type InputState = 'open' | 'closed';

/** How a board tells its inputs. It belongs to the board of a job; the program knows none by itself. */
export type Mapping = {
  /** Topic pattern, with `{input}` where the input's name stands. */
  readonly topic: string;
  /** Where the state stands: '' the payload as a whole, a name, or a query of RFC 9535. */
  readonly state: string;
  /** The texts that mean each state, in any case of letters. */
  readonly open: readonly string[];
  readonly closed: readonly string[];
  /** What the board calls an input, by the input's id, where it is not the id itself. */
  readonly names: Readonly<Record<string, string>>;
  /** Where the board, or the broker for it, says that it is there or gone. */
  readonly presence: null | {
    readonly topic: string;
    readonly here: readonly string[];
    readonly gone: readonly string[];
  };
};

/** What a message tells, once it is understood. */
export type Told =
  | { readonly is: 'input'; readonly input: string; readonly state: InputState }
  | { readonly is: 'presence'; readonly here: boolean }
  /** It came where a state was to be expected, and tells none. */
  | { readonly is: 'unread'; readonly why: 'input' | 'state' };

/** A mapping ready for use. */
export type Reader = {
  readonly filters: readonly string[];
  readonly read: (message: Message) => readonly Told[];
};

/**
 * Makes a mapping ready.
 *
 * @param inputs ids of the board's inputs
 * @returns the reader, or a sentence of what is wrong and one of what to do
 */
export async function readMapping(mapping: Mapping, inputs: readonly string[]): Promise<Reader | string> {
  const pattern = readPattern(mapping.topic);
  if (typeof pattern === 'string') return pattern;
  if (!mapping.topic.includes(INPUT_MARK) && !mapping.state.includes(INPUT_MARK))
    return `Neither the topic nor the path says which input it is. Put ${INPUT_MARK} where its name stands.`;
  const open = textsOf(mapping.open);
  const closed = textsOf(mapping.closed);
  if (open.size === 0 || closed.size === 0)
    return 'What means open and what means closed is not said. Give a text for each, such as OPEN and CLOSED.';
  const both = [...open].find((text) => closed.has(text));
  if (both !== undefined) return `"${both}" is to mean open and closed. Leave it with one of them.`;
  const stateAt = await readStatePath(mapping.state);
  if (typeof stateAt === 'string') return stateAt;
  const presence = mapping.presence && readPattern(mapping.presence.topic);
  if (typeof presence === 'string') return presence;
  const byName = new Map(inputs.map((input) => [(mapping.names[input] ?? input).toLowerCase(), input]));
  const stateOf = (text: string | null): InputState | null => {
    const plain = text?.toLowerCase() ?? '';
    return open.has(plain) ? 'open' : closed.has(plain) ? 'closed' : null;
  };
  const told = (input: string, state: InputState | null): Told =>
    state === null ? { is: 'unread', why: 'state' } : { is: 'input', input, state };
  const read = (message: Message): readonly Told[] => {
    if (!isTopicName(message.topic)) return [];
    const here = presence ? presenceIn(mapping, presence.match(message.topic) !== null, message) : [];
    const name = pattern.match(message.topic);
    if (name === null) return here;
    if (mapping.topic.includes(INPUT_MARK)) {
      const input = byName.get(name.toLowerCase());
      if (input === undefined) return [...here, { is: 'unread', why: 'input' }];
      return [...here, told(input, stateOf(stateAt(message.payload, name)))];
    }
    // One message for many inputs: those that it does not speak of stay as they are.
    const spoken = inputs.flatMap((input) => {
      const text = stateAt(message.payload, mapping.names[input] ?? input);
      return text === null ? [] : [told(input, stateOf(text))];
    });
    return spoken.length > 0 ? [...here, ...spoken] : [...here, { is: 'unread', why: 'state' }];
  };
  return { filters: [...new Set([pattern.filter, ...(presence ? [presence.filter] : [])])], read };
}

function textsOf(texts: readonly string[]): ReadonlySet<string> {
  return new Set(texts.map((text) => text.trim().toLowerCase()).filter((text) => text !== ''));
}

function presenceIn({ presence }: Mapping, isThere: boolean, { payload }: Message): Told[] {
  if (!isThere || presence === null || payload.byteLength > 256) return [];
  const text = new TextDecoder().decode(payload).trim().toLowerCase();
  if (textsOf(presence.gone).has(text)) return [{ is: 'presence', here: false }];
  return textsOf(presence.here).has(text) ? [{ is: 'presence', here: true }] : [];
}
