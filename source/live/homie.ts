import type { Mapping } from './mapping.ts';
import { type Message, textOf } from './message.ts';
import { INPUT_MARK } from './topic.ts';

/**
 * The Homie convention tells what a device has by retained attributes, so that no mapping need be made: version 4 by
 * `homie/DEVICE/NODE/PROPERTY/$datatype`, version 5 by one JSON document, `homie/5/DEVICE/$description`. Both from memory; the document of
 * version 5 was compared with the types of an open library of it.
 */
export const HOMIE_FILTERS: readonly string[] = [
  'homie/5/+/$description',
  'homie/+/+/+/$datatype',
  'homie/+/+/+/$format',
];

/** A property of a device that is true or false. */
export type HomieProperty = {
  /** Where its values come: `homie/5/board/inputs/in-3`. */
  readonly topic: string;
  /** Its words for false and for true, in this order, where it has any. */
  readonly words: readonly [string, string] | null;
};

/** Gathers what devices tell of themselves. */
export class HomieDevices {
  #found = new Map<string, { isBoolean: boolean; format: string }>();

  /** Whether the message told of a device, so that there may be something new to know. */
  take({ topic, payload }: Message): boolean {
    const text = textOf(payload);
    if (text === null || this.#found.size > MOST_PROPERTIES) return false;
    const five = /^homie\/5\/([a-z0-9-]+)\/\$description$/.exec(topic);
    if (five) return this.#describe(`homie/5/${five[1]}`, text);
    const four = /^(homie\/[a-z0-9-]+\/[a-z0-9-]+\/[a-z0-9-]+)\/\$(datatype|format)$/.exec(topic);
    if (four?.[1] === undefined) return false;
    const held = this.#found.get(four[1]) ?? { isBoolean: false, format: '' };
    this.#found.set(
      four[1],
      four[2] === 'format' ? { ...held, format: text } : { ...held, isBoolean: text === 'boolean' },
    );
    return true;
  }

  /** Every property that is true or false, of whatever device. */
  properties(): readonly HomieProperty[] {
    return [...this.#found].flatMap(([topic, { isBoolean, format }]) => {
      if (!isBoolean) return [];
      const [no = '', yes = ''] = format.split(',').map((word) => word.trim());
      return [{ topic, words: no !== '' && yes !== '' ? ([no, yes] as const) : null }];
    });
  }

  #describe(device: string, text: string): boolean {
    let described: unknown;
    try {
      described = JSON.parse(text);
    } catch {
      return false;
    }
    for (const [node, inNode] of membersOf(memberOf(described, 'nodes'))) {
      for (const [property, inProperty] of membersOf(memberOf(inNode, 'properties'))) {
        if (!/^[a-z0-9-]+$/.test(node) || !/^[a-z0-9-]+$/.test(property)) continue;
        const format = memberOf(inProperty, 'format');
        this.#found.set(`${device}/${node}/${property}`, {
          isBoolean: memberOf(inProperty, 'datatype') === 'boolean',
          format: typeof format === 'string' ? format : '',
        });
      }
    }
    return true;
  }
}

const MOST_PROPERTIES = 2000;

/** Homie 5: a boolean's format gives its words, false first. These say which is which; others leave it to be learned. */
const OPEN_WORDS: ReadonlySet<string> = new Set(['open', 'opened', 'active', 'alarm', 'triggered']);
const CLOSED_WORDS: ReadonlySet<string> = new Set(['closed', 'close', 'rest', 'restored', 'normal']);

/**
 * The mapping of a board whose inputs are properties of one device, each named by its input: the one pattern that has all
 * inputs. Null where none has, or more than one. `isSure` is false where the words do not say which value is open.
 */
export function mappingOfHomie(
  properties: readonly HomieProperty[],
  inputs: readonly string[],
): { readonly mapping: Mapping; readonly isSure: boolean } | null {
  const patterns = new Map<string, Map<string, HomieProperty>>();
  for (const property of properties) {
    for (const input of inputs) {
      // `inputs/3`, `inputs/in-3`, `input-3/state`: the id by itself between slashes, hyphens and ends.
      const at = new RegExp(`(?<=[/-])${input.replaceAll(/[^\w]/g, '\\$&')}(?=[/-]|$)`, 'g');
      for (const { index } of property.topic.matchAll(at)) {
        if (index < 'homie/5/x'.length) continue;
        const pattern = `${property.topic.slice(0, index)}${INPUT_MARK}${property.topic.slice(index + input.length)}`;
        const known = patterns.get(pattern) ?? new Map<string, HomieProperty>();
        patterns.set(pattern, known.set(input, property));
      }
    }
  }
  const whole = [...patterns].filter(([, known]) => inputs.every((input) => known.has(input)));
  const [only] = whole;
  if (whole.length !== 1 || only === undefined) return null;
  const [topic, known] = only;
  const sense = senseOf([...known.values()]);
  const device = /^homie\/(?:5\/)?[a-z0-9-]+/.exec(topic)?.[0] ?? '';
  return {
    mapping: {
      topic,
      state: '',
      open: [sense === 'false-is-open' ? 'false' : 'true'],
      closed: [sense === 'false-is-open' ? 'true' : 'false'],
      names: {},
      presence: { topic: `${device}/$state`, here: ['ready'], gone: ['lost', 'disconnected', 'sleeping'] },
    },
    isSure: sense !== null,
  };
}

function senseOf(properties: readonly HomieProperty[]): 'true-is-open' | 'false-is-open' | null {
  const senses = new Set(
    properties.map(({ words }) => {
      const [no = '', yes = ''] = words?.map((word) => word.toLowerCase()) ?? [];
      if (OPEN_WORDS.has(yes) || CLOSED_WORDS.has(no)) return 'true-is-open' as const;
      return OPEN_WORDS.has(no) || CLOSED_WORDS.has(yes) ? ('false-is-open' as const) : null;
    }),
  );
  const [sense = null] = senses;
  return senses.size === 1 ? sense : null;
}

function memberOf(json: unknown, name: string): unknown {
  if (typeof json !== 'object' || json === null || !Object.hasOwn(json, name)) return undefined;
  return (json as Readonly<Record<string, unknown>>)[name];
}

function membersOf(json: unknown): readonly (readonly [string, unknown])[] {
  return typeof json === 'object' && json !== null ? Object.entries(json).slice(0, MOST_PROPERTIES) : [];
}
