import type { NodeId } from './wiring.ts';

/**
 * One thing that hands do. It states the place that results, so that doing it twice changes nothing; where it must
 * have been before is checked when it is folded.
 */
export type Act =
  /** Off its screw, the end free; what came off one screw stays together until it is parted, insulated or landed. */
  | { readonly do: 'lift'; readonly conductor: string; readonly at: string }
  /** The conductors of a splice taken apart, each end by itself. */
  | { readonly do: 'part'; readonly join: NodeId; readonly conductors: readonly string[] }
  | { readonly do: 'cut'; readonly conductor: string; readonly at: string }
  /** An end onto a board's terminal, into a joint, or onto the free leg of a resistor there. */
  | { readonly do: 'land'; readonly conductor: string; readonly at: NodeId }
  | { readonly do: 'insulate'; readonly conductor: string }
  | { readonly do: 'label'; readonly conductor: string }
  /** A part taken out: its two ends are bare, and nothing is made through by it. */
  | { readonly do: 'remove-resistor'; readonly resistor: string; readonly zone: string }
  | FitResistor
  /** What is at `from` is brought to `into`, and joined there. */
  | { readonly do: 'splice'; readonly into: NodeId; readonly from: NodeId }
  /** A resistor that a detector sets by a jumper, set to a value or to none: then its place is through, or open. */
  | {
      readonly do: 'set-jumper';
      readonly resistor: string;
      readonly zone: string;
      readonly ohms: number | null;
      readonly leaves: 'through' | 'open';
    }
  /** An end from one terminal to another, at the same device. */
  | { readonly do: 'move'; readonly conductor: string; readonly from: NodeId; readonly to: NodeId }
  /** A wire from each of these terminals of a board to the next. */
  | { readonly do: 'link'; readonly board: string; readonly terminals: readonly string[] }
  | { readonly do: 'mount'; readonly board: string }
  /** A door opened, a relay powered: what it may show, it shows now. */
  | { readonly do: 'work'; readonly what: string }
  | { readonly do: 'isolate'; readonly source: string }
  | { readonly do: 'connect-source'; readonly source: string; readonly board: string | null }
  | { readonly do: 'remove'; readonly what: string }
  | { readonly do: 'open-enclosure' };

/**
 * A resistor between two places: where the old one of a detector sat; at its contact (across one that opens, in the
 * row with one that closes); or at an input, across its terminals or between its terminal and what lands there.
 */
export type FitResistor = {
  readonly do: 'fit-resistor';
  readonly zone: string;
  readonly ohms: number;
  readonly between: readonly [NodeId, NodeId];
  readonly detector?: string;
  readonly contact?: 'alarm' | 'tamper';
  readonly circuit?: { readonly board: string; readonly input: string };
  readonly across?: true;
};

/** How an act went: done as it says, not done, or nobody can say. */
export type ActDone = 'done' | 'not-done' | 'unknown';

/** Conductors that an act puts hands on. */
export function conductorsOf(act: Act): readonly string[] {
  if ('conductor' in act) return [act.conductor];
  return 'conductors' in act ? act.conductors : [];
}
