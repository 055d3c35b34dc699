import type { Key, KeyName } from './key.ts';

/**
 * A row of a key table: the only place that says which key does what. The keys handled, the foot of the
 * screen, the help and the README's list are all read from these rows.
 */
export type KeyRow<Command extends string = string, Situation = unknown> = {
  readonly keys: readonly KeyLabel[];
  readonly does: Command;
  readonly says: string;
  /** Shown at the foot of the screen, while it works. */
  readonly foot: boolean;
  readonly works?: (situation: Situation) => boolean;
};

/** How a key is written in a table: a name of {@link KeyName}, `ctrl+c`, or the sign itself. */
export type KeyLabel = Exclude<KeyName, 'char' | 'ctrl'> | `ctrl+${string}` | (string & {});

/** How a key that was pressed is written in a table. */
function labelOf(key: Key): KeyLabel {
  if (key.name === 'char') return key.char;
  return key.name === 'ctrl' ? `ctrl+${key.char}` : key.name;
}

/** What a key does now; null where it does nothing. */
export function commandOf<Command extends string, Situation>(
  rows: readonly KeyRow<Command, Situation>[],
  key: Key,
  situation: Situation,
): Command | null {
  const label = labelOf(key);
  const row = rows.find((one) => one.keys.includes(label) && (one.works?.(situation) ?? true));
  return row?.does ?? null;
}

/** The rows whose keys work now. */
export function workingRows<Command extends string, Situation>(
  rows: readonly KeyRow<Command, Situation>[],
  situation: Situation,
): readonly KeyRow<Command, Situation>[] {
  return rows.filter((row) => row.works?.(situation) ?? true);
}

const SHOWN: Readonly<Record<string, string>> = {
  enter: 'Enter',
  escape: 'Esc',
  tab: 'Tab',
  erase: 'Backspace',
  up: '↑',
  down: '↓',
  left: '←',
  right: '→',
  'page-up': 'PgUp',
  'page-down': 'PgDn',
  home: 'Home',
  end: 'End',
  ' ': 'Space',
};

/**
 * A key as people read it.
 *
 * @example showKey('ctrl+c') // => 'Ctrl+C'
 */
export function showKey(label: KeyLabel): string {
  if (label.startsWith('ctrl+')) return `Ctrl+${label.slice(5).toUpperCase()}`;
  return SHOWN[label] ?? label;
}
