import type { MeasuringPoint } from '../plan/plan.ts';
import { reading } from './card.ts';
import type { Facts } from './facts.ts';
import { bare, wire } from './facts.ts';
import type { ReadingProof } from './step.ts';

/** The plan's measuring point as something to read on a card. The windows are the plan's. */
export function pointReading(facts: Facts, point: MeasuringPoint): ReadingProof {
  const { expected, usable } = point.window;
  const isOpen = expected === 'open';
  const bounds = expected === null || expected === 'open' ? null : expected;
  return reading({
    field: fieldOf(point),
    of: 'ohms',
    label: labelOf(facts, point),
    between: point.between,
    with: point.with,
    min: finite(bounds?.min),
    nominal: finite(bounds?.nominal),
    max: finite(bounds?.max),
    usable: point.judgesContact && usable ? { min: usable.min, max: finite(usable.max) } : null,
    open: isOpen ? 'must' : expected === null || bounds?.max === Number.POSITIVE_INFINITY ? 'may' : 'no',
    point: point.id,
  });
}

/** `found.z1.rest` is plainly `rest` on the card of z1; later phases keep their name. */
function fieldOf(point: MeasuringPoint): string {
  return point.phase === 'found' ? point.id.replace(`found.${point.zone}.`, '') : point.id;
}

function finite(value: number | undefined): number | null {
  return value === undefined || !Number.isFinite(value) ? null : value;
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
