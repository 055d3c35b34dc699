import type { Circuit, ResistorWork, ZonePlan } from '../../plan/plan.ts';
import { CANNOT, card, choice } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Act, Step } from '../step.ts';

/** Stage 8: each resistor removed, replaced or fitted as planned, and the loop read again. */
export function resistorSteps(facts: Facts): Step[] {
  return facts.loops.flatMap((loop) => {
    const plan = facts.plan.zones.find((zone) => zone.id === loop.id);
    const acts = plan ? actsOf(facts, plan) : [];
    if (!plan || acts.length === 0) return [];
    const points = facts.points('resistor-out', loop.id);
    return [
      card('resistors', {
        id: resistorStep(loop.id),
        title: `${TITLES[plan.resistor.work]} ${ohms(plan.resistor)} of ${loop.name} ${place(facts, plan.resistor)}${more(acts, plan)}`,
        why: `${plan.supervisionLost ?? 'The new input reads the bare loop, or the value it supervises with'}.`,
        cautions: cautions(
          ...(plan.resistor.work === 'remove' ? (['resistor-watch'] as const) : []),
          ...(isAtDetector(plan.resistor) ? (['ladder'] as const) : []),
        ),
        acts,
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

const TITLES = { remove: 'Remove', replace: 'Replace', fit: 'Fit', keep: 'Move', none: 'Fit' } as const;
const AS_PLANNED = {
  remove: 'Out, and bagged with its zone’s name',
  replace: 'Replaced, and the old one bagged',
  fit: 'Fitted, and insulated',
  keep: 'In its new place, and insulated',
  none: 'Fitted, and insulated',
} as const;

function ohms(work: ResistorWork): string {
  const value = work.work === 'fit' ? work.newOhms : work.ohms;
  const replaced = work.work === 'replace' && work.newOhms !== null ? ` by ${work.newOhms} ohm` : '';
  return value === null ? `the resistor${replaced}` : `the ${value} ohm resistor${replaced}`;
}

function isAtDetector(work: ResistorWork): boolean {
  return work.at !== null && work.at !== 'panel';
}

/** A split zone may need more resistors than it had. */
function more(acts: readonly Act[], { resistor }: ZonePlan): string {
  const fits = acts.filter((act) => act.do === 'fit-resistor').length;
  const own = resistor.work === 'remove' ? 0 : 1;
  return fits > own && resistor.work !== 'fit' ? `, and fit ${fits - own} more` : '';
}

function place(facts: Facts, work: ResistorWork): string {
  if (work.work === 'keep') return 'from the old panel to its new input';
  if (work.at === 'panel' || work.at === null) return 'at the panel';
  if (work.at === 'unknown') return 'wherever it sits: look at the panel first, then at the detectors';
  const { detector, by } = { by: 'part', ...work.at };
  const name = facts.detector(detector)?.name ?? detector;
  return by === 'jumper' ? `at ${name}, by its jumper` : `at ${name}`;
}

/** What stands at the old panel is taken off it even where it is kept: it goes along to the new input. */
function actsOf(facts: Facts, { id: zone, fitted: old }: ZonePlan): Act[] {
  const taken = old.filter(({ work, at }) => work !== 'keep' || at === 'panel');
  const circuits = facts.circuits.filter((circuit) => circuit.fromZone === zone);
  return [
    ...taken.map((one) => ({ do: 'remove-resistor' as const, resistor: one.id, zone })),
    ...circuits.flatMap(fitted),
  ];
}

/** Every circuit that supervises with a resistor of its own gets one, also where one zone becomes several. */
function fitted({ fromZone: zone, board, input, contact, resistor }: Circuit): Act[] {
  const { work, at } = resistor;
  const ohms = work === 'keep' && at === 'panel' ? resistor.ohms : resistor.newOhms;
  if (ohms === null) return [];
  if (at !== null && typeof at === 'object')
    return [{ do: 'fit-resistor', zone, ohms, detector: at.detector }];
  const across = contact === 'normally-open' ? ({ across: true } as const) : {};
  return [{ do: 'fit-resistor', zone, ohms, circuit: { board, input }, ...across }];
}
