/** Several things on one screw, drawn as a branching line: a head, and a line for each. */
export function branches<T>(head: string, things: readonly T[], words: (thing: T) => string): string[] {
  if (things.length === 0) return [head.trimEnd()];
  const last = things.length - 1;
  return things.map((thing, index) => {
    const start = index === 0 ? head : ' '.repeat(head.length);
    const line = last === 0 ? '──── ' : index === 0 ? '──┬─ ' : index === last ? '  └─ ' : '  ├─ ';
    return `${start}${line}${words(thing)}`;
  });
}
