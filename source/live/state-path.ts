import { textOf } from './message.ts';
import { INPUT_MARK } from './topic.ts';

/** Takes the text that tells a state out of a payload; null where it is not there. */
export type StateReader = (payload: Uint8Array, input: string) => string | null;

/**
 * How the state is read from a payload: the payload as a whole, a member of a JSON object by its name, or a query of
 * RFC 9535 (JSONPath), for which the library is loaded. `{input}` in it stands for the input's name.
 *
 * @returns the reader, or a sentence of what is wrong and one of what to do
 */
export async function readStatePath(path: string): Promise<StateReader | string> {
  if (path === '') return (payload) => textOf(payload);
  if (!path.startsWith('$'))
    return (payload, input) => member(jsonOf(payload), path.replace(INPUT_MARK, input));
  const { JSONPathEnvironment } = await import('json-p3');
  const environment = new JSONPathEnvironment({ strict: true, maxRecursionDepth: 50 });
  const compiled = new Map<string, ReturnType<typeof environment.compile>>();
  const compile = (input: string) => {
    const held = compiled.get(input);
    if (held) return held;
    const made = environment.compile(path.replaceAll(INPUT_MARK, input));
    if (compiled.size < MOST_INPUTS) compiled.set(input, made);
    return made;
  };
  try {
    compile('1');
  } catch (error) {
    const why = error instanceof Error ? error.message.split('\n')[0] : String(error);
    return `The path "${path}" is no JSONPath of RFC 9535 (${why}). Give one such as $.state, or the name of a member.`;
  }
  return (payload, input) => {
    // A name that comes from outside must not become part of the query.
    if (!SAFE_NAME.test(input)) return null;
    try {
      const [first, ...more] = compile(input)
        .query(jsonOf(payload) as never)
        .values();
      return more.length > 0 ? null : scalar(first);
    } catch {
      return null;
    }
  };
}

const MOST_INPUTS = 256;
const SAFE_NAME = /^[\w .-]{0,64}$/;

function member(json: unknown, name: string): string | null {
  if (typeof json !== 'object' || json === null || !Object.hasOwn(json, name)) return null;
  return scalar((json as Readonly<Record<string, unknown>>)[name]);
}

function scalar(value: unknown): string | null {
  if (typeof value === 'string') return value.trim();
  return typeof value === 'number' || typeof value === 'boolean' ? String(value) : null;
}

function jsonOf(payload: Uint8Array): unknown {
  const text = textOf(payload);
  if (text === null) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
