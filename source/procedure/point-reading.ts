import type { MeasuringPoint } from '../plan/plan.ts';
import { reading } from './card.ts';
import type { Facts } from './facts.ts';
import { bare, wire } from './facts.ts';
import type { ReadingProof } from './step.ts';

/**
 * The plan's measuring point as something to read on a card. The windows are the plan's.
 *
 * @param field how the card calls it, where the point's own short name would not do
 */
export function pointReading(facts: Facts, point: MeasuringPoint, field = fieldOf(point)): ReadingProof {
  const { expected, usable } = point.window;
  const isOpen = expected === 'open';
  const bounds = expected === null || expected === 'open' ? null : expected;
  return reading({
    field,
    of: 'ohms',
    label: labelOf(facts, point),
    between: point.between,
    with: point.with,
    min: finite(bounds?.min, Math.floor),
    nominal: finite(bounds?.nominal, Math.round),
    max: finite(bounds?.max, Math.ceil),
    usable:
      point.judgesContact && usable
        ? { min: finite(usable.min, Math.ceil) ?? 0, max: finite(usable.max, Math.floor) }
        : null,
    open: isOpen ? 'must' : expected === null || bounds?.max === Number.POSITIVE_INFINITY ? 'may' : 'no',
    point: point.id,
  });
}

/** `lifted.z1.rest` is plainly `rest` on the card of z1; later phases keep their name. */
function fieldOf(point: MeasuringPoint): string {
  const isMeasured = point.phase === 'found' || point.phase === 'lifted';
  return isMeasured ? point.id.replace(`${point.phase}.${point.zone}.`, '') : point.id;
}

/** Windows are kept in whole milliohms, rounded outwards where they are expected and inwards where they judge. */
function finite(value: number | undefined, round: (value: number) => number): number | null {
  return value === undefined || !Number.isFinite(value) ? null : round(value * 1000) / 1000;
}

const STANDS = { rest: 'at rest', active: 'worked', unpowered: 'without supply' } as const;

function labelOf(facts: Facts, point: MeasuringPoint): string {
  const [a, b] = point.between.map((node) => nodeName(facts, node));
  const worked = Object.entries(point.with).filter(([, state]) => state === 'active');
  const how =
    worked.length > 0
      ? worked.map(([id, state]) => `${facts.detector(id)?.name ?? id} ${STANDS[state]}`).join(', ')
      : 'all at rest';
  return `${a} to ${b}, ${how}`;
}

function nodeName(facts: Facts, node: string): string {
  if (facts.conductor(node)) return wire(facts, node);
  return node.startsWith('old:') ? `screw ${bare(node)}` : node;
}
