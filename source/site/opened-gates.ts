import { mayBeMainsFed } from './outside.ts';
import type { Survey } from './survey.ts';

/** A gate that a correction takes away: what the survey said, and says now. */
export type OpenedGate = { readonly field: string; readonly was: string; readonly now: string };

/** Fields of which some values hold a gate. Whoever corrects one says what was seen: these are the ways that are typed. */
const HOLDS_GATE =
  /^(outside\.(feed|signalling|monitored|lifeSafety|otherFeeds|sounderBattery)|outputs(\.|$)|sounders(\.|$)|keypads(\.|$)|supplies(\.|$)|panel\.(batteries|earthed|enclosure)|detectors\.[^.]+(\.kind)?$)/;

/** Whether correcting this field may take a gate away. */
export function mayOpenGate(path: string): boolean {
  return HOLDS_GATE.test(path.trim());
}

const GONE = 'not there';

/**
 * The gates that a corrected survey no longer has: mains, a source, a sounder that sounds by itself, a centre that listens,
 * a panic or unknown device. What makes the work stricter opens none.
 */
export function openedGates(before: Survey, after: Survey): OpenedGate[] {
  return [
    ...outside(before.outside, after.outside),
    ...vanished('outputs', before.outputs.map(outputOf), after.outputs.map(outputOf)),
    ...vanished('supplies', before.supplies.flatMap(supplyOf), after.supplies.flatMap(supplyOf)),
    ...vanished('sounders', before.sounders.flatMap(sounderOf), after.sounders.flatMap(sounderOf)),
    ...vanished('keypads', before.keypads.flatMap(keypadOf), after.keypads.flatMap(keypadOf)),
    ...vanished('detectors', before.detectors.flatMap(detectorOf), after.detectors.flatMap(detectorOf)),
    ...batteries(before, after),
    ...(before.panel.earthed !== 'no' && after.panel.earthed === 'no'
      ? [{ field: 'panel.earthed', was: before.panel.earthed, now: 'no' }]
      : []),
  ];
}

type Outside = Survey['outside'];

function outside(before: Outside, after: Outside): OpenedGate[] {
  const fell = (field: keyof Outside, held: (value: string) => boolean) =>
    held(before[field]) && !held(after[field])
      ? [{ field: `outside.${field}`, was: before[field], now: after[field] }]
      : [];
  return [
    ...(mayBeMainsFed(before) && !mayBeMainsFed(after)
      ? [{ field: 'outside.feed', was: before.feed, now: after.feed }]
      : []),
    ...fell('signalling', (value) => value === 'telephone' || value === 'unknown'),
    ...fell('monitored', (value) => value !== 'no'),
    ...fell('lifeSafety', (value) => value !== 'none'),
    ...fell('otherFeeds', (value) => value !== 'none'),
    ...fell('sounderBattery', (value) => value !== 'no'),
  ];
}

/** Something that holds a gate, by what and by its kind of holding it. */
type Held = { readonly id: string; readonly is: string };

function vanished(list: string, before: readonly Held[], after: readonly Held[]): OpenedGate[] {
  const now = new Map(after.map(({ id, is }) => [id, is]));
  // What is gone as a whole is told once.
  const isPartOfGone = (id: string) => id.includes('.') && !now.has(id);
  return before
    .filter(({ is, id }) => is !== '' && (now.get(id) ?? '') !== is && !isPartOfGone(id))
    .map(({ id, is }) => ({ field: `${list}.${id}`, was: is, now: now.get(id) || GONE }));
}

const outputOf = ({ terminals, voltage }: Survey['outputs'][number]): Held => ({
  id: terminals.join('-'),
  is: voltage === 'extra-low' ? '' : voltage,
});

const supplyOf = ({ id, battery }: Survey['supplies'][number]): Held[] => [
  { id, is: 'a source of power' },
  { id: `${id}.battery`, is: battery === 'no' ? '' : battery },
];

const sounderOf = ({ id, ownBattery, wiring, trigger }: Survey['sounders'][number]): Held[] => [
  { id, is: 'a sounder' },
  { id: `${id}.ownBattery`, is: ownBattery === 'no' ? '' : ownBattery },
  { id: `${id}.wiring`, is: wiring === 'two-wire' ? '' : wiring },
  { id: `${id}.trigger`, is: trigger === 'unknown' ? '' : trigger },
];

const keypadOf = ({ id, emergencyKeys }: Survey['keypads'][number]): Held[] => [
  { id, is: emergencyKeys === 'none' ? '' : emergencyKeys },
];

const detectorOf = ({ id, kind }: Survey['detectors'][number]): Held[] =>
  kind === 'panic' || kind === 'unknown' ? [{ id, is: kind }] : [];

function batteries(before: Survey, after: Survey): OpenedGate[] {
  const [was, now] = [before.panel.batteries.length, after.panel.batteries.length];
  return now < was ? [{ field: 'panel.batteries', was: `${was}`, now: `${now}` }] : [];
}
