import { reading, sweep, words } from './card.ts';
import type { Proof } from './step.ts';

/**
 * Windows of a voltage where none may be. ±0.5 V and the 50 V at which everything stops are choices of this
 * program; that induced and foreign voltages are looked for follows 29 CFR 1910.333(b)(2)(iv)(B).
 */
export const DEAD_VOLTS = 0.5;
export const STOP_VOLTS = 50;
/** How far the known source may read apart before and after, by the same instrument. */
const SAME_INSTRUMENT = 0.1;

/** DC and AC over the same points, with the second reading that tells induced from real. */
export function deadSweeps(points: readonly string[], against: string): { dc: Proof[]; ac: Proof[] } {
  return {
    dc: [
      sweep({
        field: 'dc',
        of: 'volts-dc',
        label: `Greatest DC volts, each point against ${against}`,
        min: -DEAD_VOLTS,
        max: DEAD_VOLTS,
        points,
      }),
    ],
    ac: [
      sweep({
        field: 'ac',
        of: 'volts-ac',
        label: `Greatest AC volts, each point against ${against}`,
        min: 0,
        max: DEAD_VOLTS,
        points,
        rereadAs: 'ac-loaded',
        stopAbove: STOP_VOLTS,
      }),
      reading({
        field: 'ac-loaded',
        of: 'volts-ac',
        label:
          'Only if 0.5 to 50 V AC was met: every point above 0.5 V again at low input impedance (or across 10 kohm, below 30 V), the greatest',
        between: [points[0] ?? 'earth', 'earth'],
        min: 0,
        nominal: 0,
        max: DEAD_VOLTS,
        usable: { min: 0, max: DEAD_VOLTS },
        danger: true,
        when: { sweep: 'ac', above: DEAD_VOLTS, upTo: STOP_VOLTS },
      }),
    ],
  };
}

/**
 * DC and AC on ends that a step has freed. At its screw or in its join a pair may have been shorted, through closed
 * contacts to an earthed negative: that it is dead shows only once it is off. Each pair is measured before it is
 * read or connected, AC and DC, across and to either pole (29 CFR 1910.333(b)(2)(iv)(B): unrelated backfeed).
 */
export function freeEndSweeps(points: readonly string[]): Proof[] {
  const { dc, ac } = deadSweeps(points, 'the other wire of its pair, the panel’s negative and earth');
  return [...dc, ...ac];
}

/** What was met on the same card when nothing more is read there but volts: for `unless` of readings in ohms. */
export const NOT_DEAD = [
  { field: 'dc', above: DEAD_VOLTS },
  { field: 'ac', above: STOP_VOLTS },
  { field: 'ac-loaded', above: DEAD_VOLTS },
] as const;

/** The instrument on a known source, before and after: a fresh cell for DC, a named extra-low source for AC. */
export function knownSource(mode: 'dc' | 'ac'): { before: Proof[]; after: Proof[] } {
  const field = `known-${mode}`;
  const known = {
    of: mode === 'dc' ? 'volts-dc' : 'volts-ac',
    between: [`known:${mode}+`, `known:${mode}-`],
    ...(mode === 'dc'
      ? { min: 1.2, nominal: 9, max: 30, usable: { min: 1.2, max: 30 } }
      : { min: 3, nominal: 12, max: 30, usable: { min: 3, max: 30 } }),
  } as const;
  const name = mode === 'dc' ? 'a fresh cell or battery' : 'a known source of 3 to 30 V AC';
  return {
    before: [
      ...(mode === 'ac'
        ? [
            words('ac-source', 'Which AC source the instrument was tried on', [
              'proving unit',
              'bell transformer',
            ]),
          ]
        : []),
      reading({ ...known, field: `${field}-before`, label: `The instrument on ${name}, before` }),
    ],
    after: [
      reading({
        ...known,
        field: `${field}-after`,
        label: `The instrument on ${name} again, after`,
        agreesWith: { field: `${field}-before`, within: SAME_INSTRUMENT },
      }),
    ],
  };
}
