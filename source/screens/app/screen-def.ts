import type { Frame, PageTurn, Room } from '../draw/frame.ts';
import type { Key } from '../keys/key.ts';
import type { KeyRow } from '../keys/table.ts';
import type { App, Screen, Turn } from './state.ts';

/** `turn`: the page that is shown and how many there are; not known yet while the screen is drawn. */
export type Situation<S extends Screen> = {
  readonly app: App;
  readonly screen: S;
  readonly turn?: PageTurn;
};

/**
 * A screen: its rows of the key table, what its own keys do and how it is drawn. A command that `press` does
 * not know is one for the whole program.
 */
export type ScreenDef<S extends Screen> = {
  readonly keys: readonly KeyRow<string, Situation<S>>[];
  /** Has the first word on every key, for what is typed; null where it has no use for it. */
  readonly take?: (app: App, screen: S, key: Key, turn: PageTurn) => Turn | null;
  readonly press?: (app: App, screen: S, command: string, turn: PageTurn) => Turn | null;
  /** A line of its list was picked, or the text of its line changed. */
  readonly picked?: (app: App, screen: S, value: string) => Turn;
  readonly line?: (app: App, screen: S, value: string) => Turn;
  readonly view: (app: App, screen: S, room: Room) => Frame;
};
