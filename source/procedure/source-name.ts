const SOURCES: readonly (readonly [start: string, says: (id: string) => string])[] = [
  ['feed', () => 'the old feed'],
  ['telephone', () => 'the telephone line'],
  ['battery:', (id) => `standby battery ${id}`],
  ['adapter:', (id) => `the adapter of ${id}`],
  ['board-battery:', (id) => `the battery of ${id}`],
  ['aux:', (id) => `the aux output of ${id}`],
  ['supply:', (id) => `power supply ${id}`],
  ['sounder:', (id) => `the battery of sounder ${id}`],
];

/**
 * A source of power as people call it.
 *
 * @example sourceName('adapter:b1') // => 'the adapter of b1'
 */
export function sourceName(source: string): string {
  const [start, says] = SOURCES.find(([one]) => source.startsWith(one)) ?? [source, () => source];
  return says(source.slice(start.length));
}

/** The same at the beginning of a sentence. */
export function sourceBegins(source: string): string {
  const name = sourceName(source);
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
}
