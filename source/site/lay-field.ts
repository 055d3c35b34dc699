import type { NodeId } from '../wiring/wiring.ts';
import type { Circuit } from './circuits.ts';
import type { Harness } from './harness.ts';
import type { Pair } from './pairs.ts';
import { liesAcross, type Run } from './runs.ts';
import type { Detector } from './survey.ts';
import { contactSense, contactWorth } from './worth.ts';

/** What one circuit's pairs are laid from. */
export type Laying = {
  readonly circuit: Circuit;
  /** All of the circuit's pairs, those of daisy chains too. */
  readonly pairs: readonly Pair[];
  readonly detectors: ReadonlyMap<string, Detector>;
  readonly cableOf: ReadonlyMap<string, string>;
  readonly harness: Harness;
};

/** What a loop meets at the far end of a cable: a device's contact, or the pair of a cable that goes on. */
type Item = { readonly device: string } | { readonly run: Run };

/** Lays what lies beyond a pair: its contacts in their order, and the pairs that go on from its far end. */
export function layField(laying: Laying, run: Run): void {
  const { circuit } = laying;
  for (const core of [run.out, run.back]) {
    const isReturnOfSeveral = run.pair.isShared && core === run.pair.second;
    const device = isReturnOfSeveral ? null : run.pair.detectors[0]!;
    laying.harness.serve(run.pair.cable, core, device, isReturnOfSeveral ? null : circuit.id);
  }
  const items = itemsBeyond(laying, run.pair);
  const across = liesAcrossLoop(laying, run.pair.detectors[0]!);
  if (across) layAcross(laying, run, items);
  else layInSeries(laying, run, items);
}

/** Whether a device's contact lies across its loop, and not in it. */
export function liesAcrossLoop({ circuit, detectors }: Laying, device: string): boolean {
  if (circuit.purpose === 'tamper') return false;
  return liesAcross(circuit.loop.style, detectors.get(device)?.contact ?? 'unknown');
}

function itemsBeyond({ pairs, cableOf, harness }: Laying, pair: Pair): Item[] {
  const further = pairs.filter(
    (other) => harness.cable(other.cable).from === pair.cable && pair.detectors.includes(other.detectors[0]!),
  );
  return pair.detectors.flatMap((device): Item[] => {
    if (cableOf.get(device) === pair.cable) return [{ device }];
    const next = further.find((other) => other.detectors[0] === device);
    return next === undefined ? [] : [{ run: { pair: next, out: next.first, back: next.second } }];
  });
}

function layInSeries(laying: Laying, run: Run, items: readonly Item[]): void {
  const { harness } = laying;
  const { cable, isShared } = run.pair;
  let here: NodeId | null = null;
  items.forEach((item, index) => {
    const isLast = index === items.length - 1;
    const enter = here ?? harness.setFar(cable, run.out, () => firstNode(laying, item, run, 'a'));
    const leave = isLast
      ? harness.setFar(cable, run.back, () =>
          isShared ? harness.joint(cable) : firstNode(laying, item, run, 'b'),
        )
      : 'device' in item
        ? post(laying, item.device, 'b')
        : harness.joint(cable);
    if ('device' in item) layContact(laying, item.device, enter, leave);
    else goOn(laying, item.run, enter, leave);
    here = leave;
  });
}

function layAcross(laying: Laying, run: Run, items: readonly Item[]): void {
  const { harness } = laying;
  const first = items[0]!;
  const { cable, isShared } = run.pair;
  const a = harness.setFar(cable, run.out, () => firstNode(laying, first, run, 'a'));
  const b = harness.setFar(cable, run.back, () =>
    isShared ? harness.joint(cable) : firstNode(laying, first, run, 'b'),
  );
  for (const item of items) {
    if ('device' in item) layContact(laying, item.device, a, b);
    else goOn(laying, item.run, a, b);
  }
}

function firstNode(laying: Laying, item: Item, { pair }: Run, side: 'a' | 'b'): NodeId {
  return 'device' in item ? post(laying, item.device, side) : laying.harness.joint(pair.cable);
}

/** A terminal of a device: its cover switch has terminals of its own. */
function post({ circuit }: Laying, device: string, terminal: 'a' | 'b' | 'r' | 'm'): NodeId {
  return `post:${device}.${circuit.purpose === 'tamper' ? 't' : ''}${terminal}`;
}

function goOn(laying: Laying, run: Run, enter: NodeId, leave: NodeId): void {
  laying.harness.setNear(run.pair.cable, run.out, enter, null);
  laying.harness.setNear(run.pair.cable, run.back, leave, null);
  layField(laying, run);
}

/** A device between its two nodes: end resistor and cover switch if they are in its loop, and its contact. */
function layContact(laying: Laying, device: string, enter: NodeId, leave: NodeId): void {
  const { circuit, harness, detectors } = laying;
  const { loop, id: zone } = circuit;
  const across = liesAcrossLoop(laying, device);
  const detector = detectors.get(device);
  const hasEnd = typeof loop.resistorAt === 'object' && loop.resistorAt?.detector === device;
  let here = enter;
  if (hasEnd) {
    const next: NodeId = across ? leave : post(laying, device, 'r');
    harness.resistors.push({
      id: `${zone}.end-of-line`,
      zone,
      ohms: loop.resistorOhms ?? 'unknown',
      role: 'end-of-line',
      a: here,
      b: next,
      place: { detector: device },
      by: isJumper(loop, device) ? 'jumper' : 'part',
    });
    if (!across) here = next;
  }
  if (circuit.purpose === 'alarm' && detector?.tamper === 'in-loop') {
    const next: NodeId = `post:${device}.t`;
    harness.contacts.push({
      detector: device,
      zone,
      purpose: 'tamper',
      sense: 'normally-closed',
      ...contactWorth(detector, 'tamper'),
      a: here,
      b: next,
    });
    here = next;
  }
  const own = ownResistor(laying, device);
  const isBeside = own !== null && !across;
  const end: NodeId = own !== null && across ? post(laying, device, 'm') : leave;
  const { purpose } = circuit;
  const sense =
    purpose === 'tamper' || detector === undefined ? 'normally-closed' : contactSense(detector, circuit);
  const worth = contactWorth(detector, purpose);
  harness.contacts.push({ detector: device, zone, purpose, sense, ...worth, a: here, b: end });
  if (own !== null) {
    const a = isBeside ? here : end;
    harness.resistors.push({
      ...own,
      id: `${zone}.${own.role}.${device}`,
      zone,
      a,
      b: leave,
      place: { detector: device },
      by: 'part',
    });
  }
}

/** The resistor that a device has to itself: beside a normally closed contact, behind a normally open one. */
function ownResistor({ circuit }: Laying, device: string) {
  const { style, bridges, alarmResistorOhms } = circuit.loop;
  if (style === 'bridged') return { role: 'bridge', ohms: bridges[device] ?? 'unknown' } as const;
  if (style === 'two-resistor') return { role: 'alarm', ohms: alarmResistorOhms ?? 'unknown' } as const;
  return null;
}

function isJumper({ resistorAt }: Circuit['loop'], device: string): boolean {
  return typeof resistorAt === 'object' && resistorAt?.detector === device && resistorAt.by === 'jumper';
}
