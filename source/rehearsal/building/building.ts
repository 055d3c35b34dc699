import type { ContactSense } from '../../electrical/loop.ts';

/**
 * A building that answers: what truly stands there, whatever a survey or a plan may say. Data alone: hands
 * ({@link act}) and faults make another building of it, a meter reads the circuit it makes.
 */
export type Building = {
  /** Conductors by id. */
  readonly wires: ReadonlyMap<string, Wire>;
  readonly resistors: ReadonlyMap<string, Resistor>;
  readonly contacts: readonly Contact[];
  readonly loads: readonly Load[];
  readonly sources: ReadonlyMap<string, Source>;
  readonly rails: readonly Rail[];
  /** Whatever else conducts: tracks, links, inputs at rest, damp, a short in the wall. */
  readonly bridges: ReadonlyMap<string, Bridge>;
  /** Switched outputs of the new boards, for a sounder. */
  readonly outputs: readonly Output[];
  /** Boards whose output is in alarm at this moment. */
  readonly alarming: ReadonlySet<string>;
  readonly sounders: readonly Sounder[];
  /** Inputs of the new boards, with the nodes of their terminals. */
  readonly inputs: readonly InputTerminals[];
  /** Boards that stand in their place: before that there is no terminal to land on. */
  readonly mounted: ReadonlySet<string>;
  /** What was taken away whole: the old panel with its screws, a keypad. */
  readonly removed: ReadonlySet<string>;
  /** Resistors that were taken out. */
  readonly takenOut: readonly Resistor[];
  /** Detectors whose contact is held worked at this moment. */
  readonly worked: ReadonlySet<string>;
  readonly meter: Meter;
  /** What hands will do wrong when they come to it. */
  readonly slips: readonly Slip[];
  /** What they did wrong, and nobody saw yet. */
  readonly slipped: readonly { readonly conductor: string; readonly meant: string }[];
  /** What went wrong and cannot be undone. */
  readonly harm: readonly Harm[];
};

/** One conductor. Its near end moves as it is lifted and landed; `broken` conducts nothing. */
export type Wire = {
  readonly id: string;
  readonly cable: string;
  readonly near: string;
  readonly far: string;
  readonly ohms: number;
  readonly broken: boolean;
};

/** `series`: in the row with what lies beside it; `across`: beside it. Taking either out leaves two bare ends. */
export type Resistor = {
  readonly id: string;
  readonly zone: string;
  readonly ohms: number;
  readonly a: string;
  readonly b: string;
  readonly stands: 'series' | 'across';
  readonly place: 'panel' | 'detector';
  /** A part with two legs, or set inside a detector by a jumper: there is nothing to take out of that. */
  readonly by: 'part' | 'jumper';
};

export type Contact = {
  readonly detector: string;
  readonly purpose: 'alarm' | 'tamper';
  readonly sense: ContactSense;
  readonly a: string;
  readonly b: string;
  readonly closedOhms: number;
  /** How it stands while its detector has no supply; null where it needs none. */
  readonly unpowered: 'open' | 'closed' | null;
  readonly stuck: 'open' | 'closed' | null;
};

/** A device that draws current between two nodes, once at least `minimumVolts` stand there. */
export type Load = {
  readonly device: string;
  readonly positive: string;
  readonly negative: string;
  readonly standbyAmps: number;
  readonly alarmAmps: number;
  readonly minimumVolts: number;
  /** What a meter sees of it while it does not run. */
  readonly idleOhms: number;
};

/** Something that gives voltage by itself. Its posts are there also while it is connected to nothing. */
export type Source = {
  readonly name: string;
  readonly mode: 'dc' | 'ac';
  readonly volts: number;
  readonly innerOhms: number;
  readonly plus: string;
  readonly minus: string;
  /** Where its leads go when connected. */
  readonly joins: readonly [string, string];
  readonly connected: boolean;
  /** The board it feeds, if it feeds one directly. */
  readonly feedsBoard: string | null;
  /** True where alternating current leaks over through insulation: no direct current passes. */
  readonly induced: boolean;
};

/** A voltage made from another: the old panel's aux, a board's aux, an input's reference. */
export type Rail = {
  readonly id: string;
  readonly plus: string;
  readonly minus: string;
  readonly innerOhms: number;
  /** The first of these sources that is connected makes the voltage. */
  readonly fedBy: readonly { readonly source: string; readonly volts: number; readonly innerOhms: number }[];
  readonly idleOhms: number;
};

export type Bridge = { readonly id: string; readonly a: string; readonly b: string; readonly ohms: number };

/** What an output switches: between these two nodes it is closed, or open, while nothing is in alarm. */
export type Output = {
  readonly board: string;
  readonly a: string;
  readonly b: string;
  readonly atRest: 'open' | 'closed';
};

/** A sounder as it is built: its supply, what it listens to, and whether the battery in its box is on. */
export type Sounder = {
  readonly id: string;
  readonly positive: string;
  readonly negative: string;
  readonly trigger: string | null;
  readonly sense:
    | 'supply'
    | 'positive-applied'
    | 'positive-removed'
    | 'negative-applied'
    | 'negative-removed';
  readonly battery: 'none' | 'on' | 'off';
  readonly minimumVolts: number;
};

type InputTerminals = {
  readonly board: string;
  readonly input: string;
  readonly terminal: string;
  readonly common: string;
};

/** A meter's own error: `shown = true x (1 + gain) + offset`. */
type Meter = {
  readonly gain: number;
  readonly offsetOhms: number;
  readonly offsetVolts: number;
};

/** The next conductor that is meant for a terminal goes elsewhere. */
type Slip = { readonly meant: string; readonly goes: string };

export type Harm = {
  readonly kind: 'worked-live' | 'board-destroyed' | 'input-destroyed' | 'battery-shorted';
  readonly says: string;
};
