import type { MeasuringPoint, Plan, ZonePlan } from '../plan.ts';
import { remember } from '../remember.ts';
import { withoutInput } from './goes-words.ts';
import { heading, paragraph } from './layout.ts';
import { jointName, spreadWords, windowWords, zoneResistorWords } from './words.ts';

/** What is done to each old zone, and what it must read before and after. */
export function zonesText(plan: Plan, columns: number): string[] {
  if (plan.zones.length === 0) return [];
  const split = plan.points.filter(({ phase, id }) => phase === 'split' && id.endsWith('.rest'));
  const pairs = split.flatMap((point) =>
    paragraph(
      `${point.between.join(' to ')}: ${windowWords(point.window)}${point.judgesContact ? '' : ' (detector unpowered)'}`,
      columns,
      `  ${point.id.slice('split.'.length, -'.rest'.length)}, `,
      '    ',
    ),
  );
  const notes = [
    'Everything off and proved dead, every conductor labelled. Then, zone by zone: read it as found, lift the leg and read, take the resistor and read, part the joins and read each pair.',
    "As found the old panel's own input lies beside the loop: less than the figure is no fault there. Lifted, it counts.",
  ];
  return [
    ...heading('Old zones', columns),
    ...notes.flatMap((note) => paragraph(note, columns, '', '')),
    ...plan.zones.flatMap((zone) => paragraph(zoneWords(plan, zone), columns, `${zone.id}  `, '    ')),
    ...(pairs.length > 0 ? ['Each pair by itself, once parted:', ...pairs] : []),
    ...(plan.points.some(({ judgesContact }) => !judgesContact)
      ? paragraph(
          'Unpowered: the relay of the detector has dropped. Its cable is read as far as it can be; its contact is proved once it has supply.',
          columns,
          '',
          '',
        )
      : []),
  ];
}

function zoneWords(plan: Plan, zone: ZonePlan): string {
  const loop = [...plan.survey.zones, ...plan.survey.tampers].find(({ id }) => id === zone.id)!;
  const reads = (phase: string) => {
    const point = pointsById(plan).get(`${phase}.${zone.id}.rest`);
    if (!point) return null;
    return `${windowWords(point.window)}${point.judgesContact ? '' : ' (detectors unpowered)'}`;
  };
  const joins = (part: boolean, word: string) =>
    zone.joins
      .filter((join) => join.part === part)
      .map(({ id, conductors }) => `${jointName(id)} (${conductors.join(` ${word} `)})`);
  const [parted, kept] = [joins(true, 'from'), joins(false, 'with')];
  const [found, lifted, bare] = [reads('found'), reads('lifted'), reads('bare')];
  const other = loop.terminals.find((one) => one !== zone.lift.terminal);
  const without = withoutInput(plan).get(zone.id) ?? [];
  if (without.length > 0)
    return `NO INPUT for ${without.join(', ')}: nothing is done to it until there is one. Screws ${loop.terminals.join(' to ')} read ${found ?? 'anything'} at rest as found.`;
  const sentences = [
    'name' in loop && loop.name !== zone.id ? `${loop.name}.` : '',
    isGivenUp(plan, zone.id) ? 'Given up: its conductors are parked.' : '',
    `Lift ${zone.lift.conductors.join(' and ')} off screw ${zone.lift.terminal}.`,
    found === null
      ? ''
      : `Screws ${loop.terminals.join(' to ')} read ${found} at rest as found${lifted === null ? '.' : `, ${legWords(plan, zone)} to screw ${other} ${lifted} once lifted${elsewhereWords(zone, found, lifted)}${workedWords(plan, zone.id)}.`}`,
    `Resistor: ${zoneResistorWords(plan, zone)}${bare === null ? '' : `; then ${bare}`}${leftWords(plan, zone.id)}.`,
    parted.length > 0 ? `Part ${parted.join(', ')}.` : '',
    kept.length > 0 ? `Leave ${kept.join(', ')} joined.` : '',
  ];
  return sentences.filter(Boolean).join(' ');
}

const pointsById = remember(
  ({ points }: Plan): ReadonlyMap<string, MeasuringPoint> =>
    new Map(points.map((point) => [point.id, point])),
);

function isGivenUp({ survey }: Plan, id: string): boolean {
  return survey.tampers.some((one) => one.id === id && one.keep === 'given-up');
}

/** What the meter is held on: the first of the lifted leg, with what was under one joint with it. */
function legWords({ wiring }: Plan, { lift: { conductors } }: ZonePlan): string {
  const near = (id: string | undefined) => wiring.conductors.find((one) => one.id === id)?.near;
  const [first, ...others] = conductors;
  const together = others.filter((id) => near(id) === near(first));
  const apart = others.filter((id) => !together.includes(id));
  return `${[first, ...together].join(' and ')}${apart.length > 0 ? ` (${apart.join(' and ')} held apart)` : ''}`;
}

/** Lifted, a resistor at the panel is left behind; where nobody knows its place the reading tells it. */
function elsewhereWords({ fitted }: ZonePlan, found: string, lifted: string): string {
  const isUnknown = fitted.some(({ role, at }) => role === 'end-of-line' && at === 'unknown');
  return isUnknown && found !== lifted ? ` (as before, if the resistor sits at a detector)` : '';
}

/** What the input would make of the zone if its resistor were forgotten. */
function leftWords(plan: Plan, zone: string): string {
  const left = plan.circuits.find(
    ({ fromZone, ifResistorLeft }) => fromZone === zone && ifResistorLeft !== null,
  );
  if (!left) return '';
  const reads = left.ifResistorLeft === 'between' ? 'neither closed nor open' : left.ifResistorLeft;
  return ` (left in, input ${left.board}/${left.input} would read ${reads})`;
}

/** What a zone reads once lifted with a detector worked; nothing where none can be worked without supply. */
function workedWords(plan: Plan, zone: string): string {
  const worked = plan.points.filter(
    ({ zone: of, phase, id }) => of === zone && phase === 'lifted' && id.includes('.active.'),
  );
  return worked.length === 0
    ? ''
    : `, and ${spreadWords(worked.map(({ window }) => window))} with one worked`;
}
