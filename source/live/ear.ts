import type { InputState, Told } from './mapping.ts';

/** An input of a board: `b1/3`. */
export type InputId = string;

/** How an input stands, as far as it was heard. */
export type Standing = {
  readonly state: InputState;
  readonly atMilliseconds: number;
  /** True where the broker kept it from earlier, or the program was deaf since: it may be so no more. */
  readonly kept: boolean;
};

/** An input was heard to change, or for the first time since the program began to hear. */
export type Change = {
  /** Counts up without a gap; a card remembers where it began. */
  readonly seq: number;
  readonly board: string;
  readonly input: string;
  readonly state: InputState;
  readonly atMilliseconds: number;
  /** Changes that followed so fast that they were only counted. */
  readonly more: number;
};

/** When nothing could be heard, and why; `to` is null while it lasts. */
export type Deaf = {
  readonly fromMilliseconds: number;
  readonly toMilliseconds: number | null;
  readonly says: string;
};

/** A board was heard to come or go. */
export type Presence = { readonly board: string; readonly here: boolean; readonly atMilliseconds: number };

/** All that was heard, as it stands at one moment. */
export type Heard = {
  readonly to: string;
  readonly hears: boolean;
  /** Why nothing is heard; null while something can be. */
  readonly says: string | null;
  /** It will not be heard again by itself: refused, or ended. */
  readonly isOver: boolean;
  readonly inputs: ReadonlyMap<InputId, Standing>;
  readonly changes: readonly Change[];
  readonly deaf: readonly Deaf[];
  readonly presence: readonly Presence[];
  /** Messages taken, and those that came where a state was expected and told none. */
  readonly messages: number;
  readonly unread: number;
  /** The next change will have this number. */
  readonly seq: number;
};

const MOST_CHANGES = 4000;
const MOST_INTERVALS = 200;
/** So many changes of one input within the second before are logged one by one; what comes faster is counted. */
const SINGLE_CHANGES = 20;

/** What is heard, put together message by message. It keeps no secret and touches no network. */
export class Ear {
  readonly #to: string;
  #says: string | null = 'Not connected yet. Wait a moment.';
  #isOver = false;
  #inputs = new Map<InputId, Standing>();
  /** The state each input was last heard in while hearing was not broken. */
  #live = new Map<InputId, InputState>();
  #last = new Map<InputId, { readonly seq: number; burst: readonly number[] }>();
  /** What came too fast to be logged one by one, by the change it followed. */
  #more = new Map<number, { readonly state: InputState; readonly more: number }>();
  #changes: Change[] = [];
  #deaf: Deaf[] = [];
  #presence: Presence[] = [];
  #messages = 0;
  #unread = 0;
  #seq = 0;

  constructor(to: string) {
    this.#to = to;
  }

  /** It can be heard from now on: what was heard before is no news of now. */
  hearing(atMilliseconds: number): void {
    this.#says = null;
    const open = this.#deaf.at(-1);
    if (open?.toMilliseconds === null)
      this.#deaf = [...this.#deaf.slice(0, -1), { ...open, toMilliseconds: atMilliseconds }];
  }

  /** Nothing can be heard from now on. */
  deafened(atMilliseconds: number, says: string, isOver = false): void {
    this.#says = says;
    this.#isOver = isOver;
    this.#live.clear();
    for (const [id, standing] of this.#inputs) this.#inputs.set(id, { ...standing, kept: true });
    const last = this.#deaf.at(-1);
    if (last?.toMilliseconds === null) this.#deaf = [...this.#deaf.slice(0, -1), { ...last, says }];
    else
      this.#deaf = [
        ...this.#deaf.slice(-MOST_INTERVALS),
        { fromMilliseconds: atMilliseconds, toMilliseconds: null, says },
      ];
  }

  /** What a message of a board told. */
  take(board: string, told: readonly Told[], atMilliseconds: number, kept: boolean): void {
    this.#messages++;
    for (const one of told) {
      if (one.is === 'unread') this.#unread++;
      else if (one.is === 'presence') this.#takePresence(board, one.here, atMilliseconds);
      else this.#takeInput(board, one.input, one.state, atMilliseconds, kept);
    }
  }

  look(): Heard {
    return {
      to: this.#to,
      hears: this.#says === null,
      says: this.#says,
      isOver: this.#isOver,
      inputs: new Map(this.#inputs),
      changes: this.#lookAtChanges(),
      deaf: this.#deaf,
      presence: this.#presence,
      messages: this.#messages,
      unread: this.#unread,
      seq: this.#seq,
    };
  }

  #takePresence(board: string, here: boolean, atMilliseconds: number): void {
    const last = this.#presence.findLast((one) => one.board === board);
    if (last?.here === here) return;
    this.#presence = [...this.#presence.slice(-MOST_INTERVALS), { board, here, atMilliseconds }];
  }

  #takeInput(board: string, input: string, state: InputState, atMilliseconds: number, kept: boolean): void {
    const id = `${board}/${input}`;
    const live = this.#live.get(id);
    // What the broker kept says nothing of now, and less than what was heard since.
    if (kept) {
      if (live === undefined) this.#inputs.set(id, { state, atMilliseconds, kept });
      return;
    }
    this.#live.set(id, state);
    if (live === state) return;
    this.#inputs.set(id, { state, atMilliseconds, kept: false });
    this.#log(id, { board, input, state, atMilliseconds });
  }

  #log(id: InputId, heard: Pick<Change, 'board' | 'input' | 'state' | 'atMilliseconds'>): void {
    const last = this.#last.get(id);
    const burst = [...(last?.burst ?? []), heard.atMilliseconds].filter(
      (at) => heard.atMilliseconds - at < 1000,
    );
    if (last && burst.length > SINGLE_CHANGES) {
      const more = (this.#more.get(last.seq)?.more ?? 0) + 1;
      this.#more.set(last.seq, { state: heard.state, more });
      this.#last.set(id, { seq: last.seq, burst: burst.slice(-SINGLE_CHANGES - 1) });
      return;
    }
    const seq = this.#seq++;
    this.#last.set(id, { seq, burst });
    this.#changes.push({ seq, ...heard, more: 0 });
    if (this.#changes.length < 2 * MOST_CHANGES) return;
    this.#changes = this.#changes.slice(-MOST_CHANGES);
    const [first] = this.#changes;
    for (const old of this.#more.keys()) if (old < (first?.seq ?? 0)) this.#more.delete(old);
  }

  #lookAtChanges(): readonly Change[] {
    const shown = this.#changes.slice(-MOST_CHANGES);
    if (this.#more.size === 0) return shown;
    return shown.map((change) => ({ ...change, ...this.#more.get(change.seq) }));
  }
}
