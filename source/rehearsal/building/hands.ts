import type { Building } from './building.ts';
import { type FitResistor, fitResistor, removeResistor, setJumper } from './hands-resistors.ts';
import { connect, removeThing, setConnected, touch } from './hands-sources.ts';
import { cut, insulate, land, lift, linkTerminals, moveEnd, part, splice } from './hands-wires.ts';
import { done, type Handled, impossible } from './places.ts';

/** What hands do to a building: the same words as a procedure's acts. */
export type HandAct =
  | { readonly do: 'lift'; readonly conductor: string; readonly at: string }
  | { readonly do: 'part'; readonly join: string; readonly conductors: readonly string[] }
  | { readonly do: 'cut'; readonly conductor: string; readonly at: string }
  | { readonly do: 'land'; readonly conductor: string; readonly at: string }
  | { readonly do: 'insulate'; readonly conductor: string }
  | { readonly do: 'label'; readonly conductor: string }
  | { readonly do: 'remove-resistor'; readonly resistor: string; readonly zone: string }
  | FitResistor
  /** What lies free at `from` is brought to `into`. */
  | { readonly do: 'splice'; readonly into: string; readonly from: string }
  | {
      readonly do: 'set-jumper';
      readonly resistor: string;
      readonly zone: string;
      readonly ohms: number | null;
      /** Set to none its place is made through, or stands open. */
      readonly leaves: 'through' | 'open';
    }
  | { readonly do: 'move'; readonly conductor: string; readonly from: string; readonly to: string }
  | { readonly do: 'link'; readonly board: string; readonly terminals: readonly string[] }
  | { readonly do: 'mount'; readonly board: string }
  | { readonly do: 'work'; readonly what: string }
  | { readonly do: 'isolate'; readonly source: string }
  | { readonly do: 'connect-source'; readonly source: string; readonly board: string | null }
  | { readonly do: 'remove'; readonly what: string }
  | { readonly do: 'open-enclosure' };

/** The building after one act. What the act does not reach stays as it is. */
export function act(building: Building, one: HandAct): Building {
  return handle(building, one).building;
}

/**
 * Does one thing and nothing else, and tells where it cannot be done as it is said: then it is done as nearly as hands
 * can, so that whoever goes on sees what comes of it.
 */
export function handle(building: Building, one: HandAct): Handled {
  switch (one.do) {
    case 'lift':
      return lift(touch(building, [one.conductor]), one.conductor, one.at);
    case 'cut':
      return done(cut(touch(building, [one.conductor]), one.conductor));
    case 'part':
      return part(touch(building, one.conductors), one.join, one.conductors);
    case 'insulate':
      return insulate(touch(building, [one.conductor]), one.conductor);
    case 'land':
      return land(touch(building, [one.conductor]), one.conductor, one.at);
    case 'move':
      return moveEnd(touch(building, [one.conductor]), one.conductor, one.from, one.to);
    case 'splice':
      return splice(building, one.into, one.from);
    case 'link':
      return linkTerminals(building, one.board, one.terminals);
    case 'remove-resistor':
      return removeResistor(building, one.resistor);
    case 'fit-resistor':
      return fitResistor(building, one);
    case 'set-jumper':
      return setJumper(building, one.resistor, one.ohms, one.leaves);
    case 'mount':
      return done({ ...building, mounted: new Set([...building.mounted, one.board]) });
    case 'work':
      return done({ ...building, worked: new Set([one.what]) });
    case 'isolate':
      return isolate(building, one.source);
    case 'connect-source':
      return isThere(building, one.source)
        ? done(connect(building, one.source))
        : impossible(building, `there is no ${one.source}`);
    case 'remove':
      return removeThing(building, one.what);
    case 'label':
      return building.wires.has(one.conductor)
        ? done(building)
        : impossible(building, `there is no wire ${one.conductor}`);
    case 'open-enclosure':
      return done(building);
  }
}

function isolate(building: Building, source: string): Handled {
  if (!isThere(building, source)) return impossible(building, `there is no ${source}`);
  return done(setConnected(building, source, false));
}

const isThere = ({ sources, sounders }: Building, source: string) =>
  sources.has(source) || sounders.some(({ id, battery }) => source === `sounder:${id}` && battery !== 'none');
