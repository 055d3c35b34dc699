import { RESISTOR_TOLERANCE, readingWindow } from '../../electrical/loop.ts';
import type { Circuit, ResistorWork, ZonePlan } from '../../plan/plan.ts';
import { CANNOT, card, choice, reading, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Act, FitResistor, Proof, Step } from '../step.ts';

/** Stage 8: each resistor removed, replaced or fitted as planned, and the loop read again. */
export function resistorSteps(facts: Facts): Step[] {
  return facts.loops.flatMap((loop) => {
    const plan = facts.plan.zones.find((zone) => zone.id === loop.id);
    const acts = plan ? actsOf(facts, plan) : [];
    if (!plan || acts.length === 0) return [];
    const fits = acts.filter((act) => act.do === 'fit-resistor');
    const points = facts.points('resistor-out', loop.id);
    return [
      card('resistors', {
        id: resistorStep(loop.id),
        title: `${TITLES[plan.resistor.work]} ${ohms(plan.resistor)} of ${loop.name} ${place(facts, plan.resistor)}${more(acts, plan)}`,
        why: `${plan.supervisionLost ?? 'The new input reads the bare loop, or the value it supervises with'}.`,
        cautions: cautions(
          ...(plan.resistor.work === 'remove' ? (['resistor-watch'] as const) : []),
          ...(isAtDetector(plan.resistor) || fits.some((fit) => fit.contact) ? (['ladder'] as const) : []),
        ),
        acts,
        needs: 'dead',
        hard: false,
        waitsFor: [`measure.${loop.id}`],
        about: [loop.id, ...loop.detectors],
        proof: [
          ...when(
            plan.resistor.work !== 'fit' || acts.some((act) => act.do === 'remove-resistor'),
            choice('resistor', 'The resistor that is there', [
              [
                'as-planned',
                plan.resistor.work === 'keep' ? 'Off the old panel' : 'Out, and bagged with its zone’s name',
                'pass',
              ],
              [
                'not-found',
                'It is not where it should be',
                'fail',
                'Look for it at the panel, then at the detectors. Correct the survey by where it is.',
              ],
              CANNOT,
            ]),
          ),
          ...newParts(facts, fits),
          ...fits.map((fit) =>
            choice(`fit.${keyOf(fit)}`, `${fit.ohms} ohm ${placeOf(facts, fit)}`, [
              ['fitted', 'Fitted, and insulated', 'pass'],
              CANNOT,
            ]),
          ),
          ...points.map((point) => pointReading(facts, point)),
        ],
      }),
    ];
  });
}

export const resistorStep = (zone: string) => `resistors.${zone}`;

const TITLES = { remove: 'Remove', replace: 'Replace', fit: 'Fit', keep: 'Move', none: 'Fit' } as const;

function ohms(work: ResistorWork): string {
  const value = work.work === 'fit' ? work.newOhms : work.ohms;
  const replaced = work.work === 'replace' && work.newOhms !== null ? ` by ${work.newOhms} ohm` : '';
  return value === null ? `the resistor${replaced}` : `the ${value} ohm resistor${replaced}`;
}

function isAtDetector(work: ResistorWork): boolean {
  return work.at !== null && work.at !== 'panel';
}

/** A split zone may need more resistors than it had, and each contact one where the board supervises with two. */
function more(acts: readonly Act[], { resistor }: ZonePlan): string {
  const fits = acts.filter((act) => act.do === 'fit-resistor');
  const atContacts = fits.filter((fit) => fit.contact);
  const atEnds = fits.length - atContacts.length - (resistor.work === 'remove' ? 0 : 1);
  const ends = atEnds > 0 ? [`fit ${atEnds} more`] : [];
  const [first] = atContacts;
  const contacts = first
    ? [
        `fit ${first.ohms} ohm at ${atContacts.length === 1 ? 'its contact' : `each of its ${atContacts.length} contacts`}`,
      ]
    : [];
  return [...ends, ...contacts].map((one) => `, and ${one}`).join('');
}

/** Each value is read before it goes in: two values that look alike are what gets mixed up. */
function newParts(facts: Facts, fits: readonly FitResistor[]): Proof[] {
  const fresh = fits.filter((fit) => !isKept(facts, fit));
  const windows = facts.plan.boards.flatMap(({ supervision }) => supervision?.window ?? []);
  const share = windows.length > 0 ? Math.min(...windows) : RESISTOR_TOLERANCE;
  return [...new Set(fresh.map((fit) => fit.ohms))].map((ohms) => {
    const count = fresh.filter((fit) => fit.ohms === ohms).length;
    const within = (part: number) => ({ min: ohms * (1 - part), nominal: ohms, max: ohms * (1 + part) });
    const { min, max } = readingWindow(within(RESISTOR_TOLERANCE));
    return reading({
      field: `part.${ohms}`,
      of: 'ohms',
      label:
        count === 1
          ? `The ${ohms} ohm resistor by itself`
          : `One of the ${count} resistors of ${ohms} ohm by itself`,
      between: [`part:${ohms}`, 'part'],
      min: Math.floor(min),
      nominal: ohms,
      max: Math.ceil(max),
      usable: { min: Math.ceil(within(share).min), max: Math.floor(within(share).max) },
    });
  });
}

/** What goes along from the old panel was read in its loop. */
const isKept = (facts: Facts, { circuit }: FitResistor) =>
  facts.circuits.some(
    ({ board, input, resistor }) =>
      circuit?.board === board && circuit.input === input && resistor.work === 'keep',
  );

const keyOf = (fit: FitResistor) =>
  fit.circuit
    ? `${fit.circuit.board}/${fit.circuit.input}`
    : `${fit.detector}${fit.contact ? `.${fit.contact}` : ''}`;

function placeOf(facts: Facts, { circuit, across, detector, contact }: FitResistor): string {
  if (circuit) {
    const at = `input ${circuit.input} of ${circuit.board}`;
    return across ? `across ${at}` : `in the row at ${at}`;
  }
  const name = facts.detector(detector ?? '')?.name ?? detector;
  if (!contact) return `at ${name}, where the old one sat`;
  const sense = facts.plan.wiring.contacts.find(
    (one) => one.detector === detector && one.purpose === contact,
  )?.sense;
  const where = sense === 'normally-open' ? 'in the row with' : 'across';
  return `at ${name}, ${where} its ${contact} contact`;
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
  const circuits = facts.circuits.filter((circuit) => zone in circuit.resistors);
  return [
    ...taken.map((one) => ({ do: 'remove-resistor' as const, resistor: one.id, zone })),
    ...circuits.flatMap((circuit) => atContacts(facts, zone, circuit)),
    ...circuits.filter((circuit) => circuit.fromZone === zone).flatMap(atEnd),
  ];
}

/** A board that supervises with two resistors wants one at each contact as well. */
function atContacts(facts: Facts, zone: string, { resistors, purpose, detectors }: Circuit): FitResistor[] {
  const ohms = resistors[zone]?.newAlarmOhms;
  if (ohms === undefined) return [];
  const own = facts.loops.find((loop) => loop.id === zone)?.detectors ?? [];
  const contact = purpose === 'tamper' ? 'tamper' : 'alarm';
  return own
    .filter((detector) => purpose === 'tamper' || detectors.includes(detector))
    .map((detector) => ({ do: 'fit-resistor', zone, ohms, detector, contact }));
}

/** Every circuit that supervises with a resistor of its own gets one, also where one zone becomes several. */
function atEnd({ fromZone: zone, board, input, contact, resistor }: Circuit): FitResistor[] {
  const { work, at } = resistor;
  const ohms = work === 'keep' && at === 'panel' ? resistor.ohms : resistor.newOhms;
  if (ohms === null) return [];
  if (at !== null && typeof at === 'object')
    return [{ do: 'fit-resistor', zone, ohms, detector: at.detector }];
  const across = contact === 'normally-open' ? ({ across: true } as const) : {};
  return [{ do: 'fit-resistor', zone, ohms, circuit: { board, input }, ...across }];
}
