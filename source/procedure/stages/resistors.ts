import { formatQuantity } from '../../electrical/quantity.ts';
import type { ZonePlan } from '../../plan/plan.ts';
import type { Act } from '../../wiring/act.ts';
import { card } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { listed } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Step } from '../step.ts';
import { handsOf, type ResistorItem } from './resistor-items.ts';

/** Stage 8: each resistor taken out, set by its jumper or replaced where it sits, and the loop read again. */
export function resistorSteps(facts: Facts): Step[] {
  return facts.loops.flatMap((loop) => {
    const plan = facts.plan.zones.find((zone) => zone.id === loop.id);
    const acts = facts.plan.work.zones[loop.id]?.resistors ?? [];
    if (!plan || acts.length === 0) return [];
    const items = handsOf(facts, acts);
    const isAway = items.some((item) => item.detector !== null);
    return [
      card('resistors', {
        id: resistorStep(loop.id),
        title: `${titleOf(plan, acts)}: ${loop.name}`,
        why: `${plan.supervisionLost ?? 'The new input reads the bare loop, or the value it supervises with'}.`,
        cautions: cautions(
          ...(plan.resistor.work === 'remove' ? (['resistor-watch'] as const) : []),
          ...(isAway ? (['ladder'] as const) : []),
        ),
        acts,
        needs: 'dead',
        hard: false,
        waitsFor: [`measure.${loop.id}`],
        about: [loop.id, ...loop.detectors],
        proof: [
          ...newPartsOf(items),
          ...items.map((item) => item.proof),
          ...facts.points('resistor-out', loop.id).map((point) => pointReading(facts, point)),
        ],
      }),
    ];
  });
}

export const resistorStep = (zone: string) => `resistors.${zone}`;

/** Two values that look alike are what gets mixed up: one reading each, before any goes in. */
function newPartsOf(items: readonly ResistorItem[]) {
  const parts = new Map(items.flatMap(({ part }) => (part === null ? [] : [[part.field, part] as const])));
  return [...parts.values()];
}

/** Sums the acts up: how many come out, are set, go in. */
function titleOf({ fitted }: ZonePlan, acts: readonly Act[]): string {
  const out = acts.filter((act) => act.do === 'remove-resistor');
  const set = acts.filter((act) => act.do === 'set-jumper');
  const put = acts.filter((act) => act.do === 'fit-resistor');
  const [only] = out;
  const known = fitted.find(({ id }) => id === only?.resistor)?.ohms;
  const old =
    out.length !== 1
      ? `${out.length} resistors`
      : typeof known === 'number'
        ? `the ${value(known)} resistor`
        : 'the resistor';
  const values = [...new Set(put.map(({ ohms }) => ohms))];
  const fresh =
    put.length === 1 ? `one of ${value(put[0]!.ohms)}` : `${put.length} of ${listed(values.map(value))}`;
  const does = [
    ...(out.length > 0 ? [`take out ${old}`] : []),
    ...(set.length > 0 ? [`set ${set.length === 1 ? 'the jumper' : `${set.length} jumpers`}`] : []),
    ...(put.length > 0 ? [`fit ${fresh}`] : []),
  ];
  const text = listed(does);
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

const value = (ohms: number) => formatQuantity(ohms, 'ohms');
