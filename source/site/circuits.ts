import type { CoreUse } from '../wiring/wiring.ts';
import type { Path } from './problem.ts';
import type { Loop, Survey } from './survey.ts';

/** A loop of the panel with what hangs on it: a zone with its detectors, or a tamper loop with its devices. */
export type Circuit = {
  readonly id: string;
  readonly purpose: 'alarm' | 'tamper';
  readonly at: Path;
  readonly terminals: readonly [string, string];
  readonly loop: Loop;
  /** Ids in the order of the loop; `lid` is a switch in the panel itself. */
  readonly members: readonly string[];
  readonly joined: Joined;
};

/** How the members are said to be joined; `unknown` follows from the cables. */
export type Joined = 'panel' | 'field' | 'unknown' | readonly (readonly string[])[];

export type Device = { readonly id: string; readonly cable: string };

/** The uses of the cores that carry a loop, and of one that may serve several as return. */
export const CARRIES: Record<
  Circuit['purpose'],
  { readonly out: readonly CoreUse[]; readonly back: CoreUse }
> = {
  alarm: { out: ['loop'], back: 'common' },
  tamper: { out: ['tamper', 'tamper-return'], back: 'sounder-negative' },
};

/**
 * The zones of a survey as circuits.
 *
 * @param declared what the file says of each zone's joins; without it they are as the survey has them
 */
export function zoneCircuits(survey: Survey, declared?: ReadonlyMap<string, Joined>): Circuit[] {
  return survey.zones.map((zone, index) => ({
    id: zone.id,
    purpose: 'alarm',
    at: ['zones', index],
    terminals: zone.terminals,
    loop: zone.loop,
    members: zone.detectors,
    joined:
      declared === undefined ? asFound(zone.joined, zone.fieldSets) : (declared.get(zone.id) ?? 'unknown'),
  }));
}

/** The tamper circuits as circuits of the old panel; how their contacts are joined nobody asks. */
export function tamperCircuits(survey: Survey): Circuit[] {
  return survey.tampers.map((tamper, index) => ({
    id: tamper.id,
    purpose: 'tamper',
    at: ['tampers', index],
    terminals: tamper.terminals,
    loop: tamper.loop,
    members: tamper.through,
    joined: 'unknown',
  }));
}

function asFound(joined: 'panel' | 'field' | 'single', sets: readonly (readonly string[])[]): Joined {
  if (sets.length > 0) return sets;
  return joined === 'single' ? 'unknown' : joined;
}

/** Everything that hangs on a cable and has a contact that a loop can go through. */
export function devicesOf(survey: Survey): readonly (Device & { readonly list: string })[] {
  return [
    ...survey.detectors.map(({ id, cable }) => ({ id, cable, list: 'detectors' })),
    ...survey.sounders.map(({ id, cable }) => ({ id, cable, list: 'sounders' })),
    ...survey.keypads.map(({ id, cable }) => ({ id, cable, list: 'keypads' })),
  ];
}
