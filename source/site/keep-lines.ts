/**
 * A text after a change, with every line that the change did not touch as it was written: its columns, its
 * blank lines, its comments where they stood. `before` and `after` are the text as a printer lays it out, without
 * the change and with it. Where the printer does more than set blanks, `after` is taken as it is.
 */
export function keepLines(text: string, before: string, after: string): string {
  const [was, is] = [before.split('\n'), after.split('\n')];
  const least = Math.min(was.length, is.length);
  let head = 0;
  while (head < least && was[head] === is[head]) head++;
  let tail = 0;
  while (tail < least - head && was.at(-1 - tail) === is.at(-1 - tail)) tail++;
  const lines = text.split('\n');
  const from = lineAfter(lines, was.slice(0, head));
  const to = lineAfter(lines, was.slice(0, was.length - tail));
  if (from === null || to === null || signsOf(text) !== signsOf(before)) return after;
  return [...lines.slice(0, from), ...is.slice(head, is.length - tail), ...lines.slice(to)].join('\n');
}

/** The line of the text that comes after these; null where they end in the middle of one. */
function lineAfter(lines: readonly string[], passed: readonly string[]): number | null {
  const wanted = signsOf(passed.join('')).length;
  let signs = 0;
  let at = 0;
  while (signs < wanted && at < lines.length) signs += signsOf(lines[at++]!).length;
  if (signs !== wanted) return null;
  const endsBlank = passed.length > 0 && passed.at(-1)!.trim() === '';
  while (endsBlank && at < lines.length && lines[at]!.trim() === '') at++;
  return at;
}

const signsOf = (text: string) => text.replaceAll(/\s+/g, '');
