/** The place in a topic or a path where the name of the input stands. */
export const INPUT_MARK = '{input}';

/** A topic pattern, taken apart. */
export type TopicPattern = {
  /** What to subscribe to: MQTT has no wildcard within a level, so a level with the mark becomes `+`. */
  readonly filter: string;
  /** What stands at the mark, '' where the pattern has none, null where the topic does not fit. */
  readonly match: (topic: string) => string | null;
};

/**
 * Reads a topic pattern: MQTT wildcards by OASIS MQTT 5.0, 4.7.1, and `{input}` once within a level.
 *
 * @returns the pattern, or a sentence of what is wrong and one of what to do
 * @example readPattern('yard/board/in-{input}').match('yard/board/in-3') // => '3'
 */
export function readPattern(pattern: string): TopicPattern | string {
  if (pattern.trim() === '') return 'The topic is empty. Give one such as yard/inputs/{input}.';
  if (/[\p{Cc}\p{Surrogate}]/u.test(pattern) || Buffer.byteLength(pattern) > 1024)
    return 'The topic holds what no topic may. Give one of printable characters, at most 1024 bytes long.';
  const levels = pattern.split('/');
  const marks = pattern.split(INPUT_MARK).length - 1;
  if (marks > 1) return `The topic has ${INPUT_MARK} ${marks} times. Leave it where the input's name stands.`;
  for (const [at, level] of levels.entries()) {
    if (level.includes('+') && level !== '+')
      return `In the topic "+" takes a whole level, and here it is part of "${level}". Put ${INPUT_MARK} there if the input's name stands in it.`;
    if (level.includes('#') && (level !== '#' || at !== levels.length - 1))
      return 'In the topic "#" stands for all that follows, so it comes last and alone. Leave it out, or put it at the end.';
  }
  const filter = levels.map((level) => (level.includes(INPUT_MARK) ? '+' : level)).join('/');
  const expression = new RegExp(
    `^${levels.map(levelExpression).join('/').replace('/.*', '(?:/.*)?')}$`,
    'su',
  );
  return {
    filter,
    match: (topic: string) => {
      const found = expression.exec(topic);
      return found === null ? null : (found.groups?.input ?? '');
    },
  };
}

function levelExpression(level: string): string {
  if (level === '+') return '[^/]*';
  if (level === '#') return '.*';
  const [before = '', after] = level.split(INPUT_MARK).map(escaped);
  return after === undefined ? before : `${before}(?<input>[^/]+)${after}`;
}

function escaped(text: string): string {
  return text.replaceAll(/[\\^$.*+?()[\]{}|/]/g, '\\$&');
}
