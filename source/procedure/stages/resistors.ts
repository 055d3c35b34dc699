import type { Circuit, ResistorWork } from '../../plan/plan.ts';
import { CANNOT, card, choice } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Act, Step } from '../step.ts';

/** Stage 8: each resistor removed, replaced or fitted as planned, and the loop read again. */
export function resistorSteps(facts: Facts): Step[] {
  return facts.loops.flatMap((loop) => {
    const plan = facts.plan.zones.find((zone) => zone.id === loop.id);
    if (!plan || plan.resistor.work === 'none' || plan.resistor.work === 'keep') return [];
    const points = facts.points('resistor-out', loop.id);
    return [
      card('resistors', {
        id: resistorStep(loop.id),
        title: `${TITLES[plan.resistor.work]} ${ohms(plan.resistor)} of ${loop.name} ${place(facts, plan.resistor)}`,
        why: `${plan.supervisionLost ?? 'The new input reads the bare loop, or the value it supervises with'}.`,
        cautions: cautions(
          ...(plan.resistor.work === 'remove' ? (['resistor-watch'] as const) : []),
          ...(isAtDetector(plan.resistor) ? (['ladder'] as const) : []),
        ),
        acts: actsOf(facts, loop.id, plan.resistor),
        needs: 'dead',
        hard: false,
        waitsFor: [`measure.${loop.id}`],
        about: [loop.id, ...loop.detectors],
        proof: [
          choice('resistor', 'The resistor', [
            ['as-planned', AS_PLANNED[plan.resistor.work], 'pass'],
            ['not-found', 'It is not where it should be', 'fail'],
            CANNOT,
          ]),
          ...points.map((point) => pointReading(facts, point)),
        ],
      }),
    ];
  });
}

export const resistorStep = (zone: string) => `resistors.${zone}`;

const TITLES = { remove: 'Remove', replace: 'Replace', fit: 'Fit', keep: 'Keep', none: 'Leave' } as const;
const AS_PLANNED = {
  remove: 'Out, and bagged with its zone’s name',
  replace: 'Replaced, and the old one bagged',
  fit: 'Fitted, and insulated',
  keep: 'Left',
  none: 'Left',
} as const;

function ohms(work: ResistorWork): string {
  const value = work.work === 'fit' ? work.newOhms : work.ohms;
  const replaced = work.work === 'replace' && work.newOhms !== null ? ` by ${work.newOhms} ohm` : '';
  return value === null ? `the resistor${replaced}` : `the ${value} ohm resistor${replaced}`;
}

function isAtDetector(work: ResistorWork): boolean {
  return work.at !== null && work.at !== 'panel';
}

function place(facts: Facts, work: ResistorWork): string {
  if (work.at === 'panel' || work.at === null) return 'at the panel';
  if (work.at === 'unknown') return 'wherever it sits: look at the panel first, then at the detectors';
  const { detector, by } = { by: 'part', ...work.at };
  const name = facts.detector(detector)?.name ?? detector;
  return by === 'jumper' ? `at ${name}, by its jumper` : `at ${name}`;
}

function actsOf(facts: Facts, zone: string, work: ResistorWork): Act[] {
  const old = facts.plan.wiring.resistors.filter((one) => one.zone === zone && one.role === 'end-of-line');
  const removes = work.work === 'remove' || work.work === 'replace';
  const circuits = facts.circuits.filter((circuit) => circuit.fromZone === zone);
  return [
    ...(removes ? old.map((one) => ({ do: 'remove-resistor' as const, resistor: one.id, zone })) : []),
    ...circuits.flatMap(fitted),
  ];
}

/** Every circuit that supervises with a resistor of its own gets one, also where one zone becomes several. */
function fitted({ fromZone: zone, board, input, contact, resistor }: Circuit): Act[] {
  const { work, at, newOhms: ohms } = resistor;
  if ((work !== 'fit' && work !== 'replace') || ohms === null) return [];
  if (at !== null && typeof at === 'object')
    return [{ do: 'fit-resistor', zone, ohms, detector: at.detector }];
  const across = contact === 'normally-open' ? ({ across: true } as const) : {};
  return [{ do: 'fit-resistor', zone, ohms, circuit: { board, input }, ...across }];
}
