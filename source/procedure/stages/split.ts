import { conductorsOf } from '../../wiring/act.ts';
import { CANNOT, card, choice } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed, wire } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Step } from '../step.ts';
import { freeEndSweeps, NOT_DEAD } from '../voltage.ts';
import { sharedWaits } from './measure.ts';
import { resistorStep, resistorSteps } from './resistors.ts';

/** Stage 9: joined detectors are parted, and each pair read by itself. */
export function splitSteps(facts: Facts): Step[] {
  const withResistor = new Set(resistorSteps(facts).map((step) => step.id));
  return facts.loops.flatMap((loop) => {
    const acts = facts.plan.work.zones[loop.id]?.part ?? [];
    const joins = acts.filter((act) => act.do === 'part');
    const points = facts.points('split', loop.id);
    if (joins.length === 0 && points.length === 0) return [];
    const parted = new Set(acts.flatMap(conductorsOf));
    const conductors = facts.conductors.filter((one) => parted.has(one.id));
    const resistor = resistorStep(loop.id);
    return [
      card('split', {
        id: splitStep(loop.id),
        title:
          joins.length === 0
            ? `Read each pair of ${loop.name} by itself`
            : `Part ${listed(conductors.map((one) => wire(facts, one.id)))} and read each pair of ${loop.name} by itself`,
        why: 'If the wrong two ends come apart, two detectors stay on one input and nobody notices.',
        cautions: cautions('shared-screw', ...(joins.length > 0 ? (['voltage-hidden'] as const) : [])),
        acts,
        needs: 'dead',
        hard: false,
        waitsFor: [
          `measure.${loop.id}`,
          ...(withResistor.has(resistor) ? [resistor] : []),
          ...sharedWaits(facts, conductors),
        ],
        about: [loop.id, ...loop.detectors],
        proof: [
          ...joins.map((join) =>
            choice(join.join, `Join of ${listed([...join.conductors])}`, [
              ['parted', 'Parted, each end insulated', 'pass'],
              [
                'other-wires',
                'Other wires are in it',
                'fail',
                'Part nothing. Follow those wires, and correct the survey by what is joined here.',
              ],
              CANNOT,
            ]),
          ),
          ...(joins.length > 0 ? freeEndSweeps(conductors.map((one) => one.id)) : []),
          ...points.map((point) => ({
            ...pointReading(facts, point),
            ...(joins.length > 0 ? { unless: NOT_DEAD } : {}),
          })),
        ],
      }),
    ];
  });
}

const splitStep = (zone: string) => `split.${zone}`;
