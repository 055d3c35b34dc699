import type { Circuit, Plan } from '../plan.ts';
import { heading, paragraph, table } from './layout.ts';
import { resistorWords, windowWords, zoneResistorWords } from './words.ts';

/** One row a new input: what it carries and what a meter must show of it. */
export function circuitsText(plan: Plan, columns: number): string[] {
  if (plan.circuits.length === 0) return [];
  const rows = plan.circuits.map((circuit) => {
    const worked = Object.values(circuit.active)[0];
    return [
      `${circuit.board}/${circuit.input}`,
      `${circuit.terminal} ${circuit.common}`,
      circuit.purpose === 'tamper'
        ? `tamper of ${circuit.detectors.join(', ')}`
        : circuit.detectors.join(', '),
      circuit.fromZone,
      windowWords(circuit.rest),
      worked ? windowWords({ ...worked, usable: null }) : '',
    ];
  });
  const usable = plan.boards.flatMap((board) => {
    const windows = plan.circuits
      .filter((one) => one.board === board.id)
      .flatMap(({ rest, active }) => [rest, ...Object.values(active)]);
    const closed = windows.find(({ usable: one }) => one && one.max < Number.POSITIVE_INFINITY)?.usable;
    const open = windows.find(({ usable: one }) => one && one.max === Number.POSITIVE_INFINITY)?.usable;
    if (!closed || !open) return [];
    return paragraph(
      `${board.id} can live with ${windowWords({ expected: { ...closed, nominal: closed.min }, usable: null })} closed and ${windowWords({ expected: 'open', usable: open })}; a reading inside that but outside the table passes, and its cause is looked for.`,
      columns,
      '',
      '',
    );
  });
  const kept = plan.circuits.flatMap((circuit) => resistorText(circuit, columns));
  return [
    ...heading('New inputs', columns),
    ...table([['input', 'screws', 'detectors', 'zone', 'at rest', 'worked'], ...rows], columns, 2),
    ...usable,
    ...(kept.length > 0 ? ['Resistors on the new inputs:', ...kept] : []),
  ];
}

/** A resistor that is on a new input when all is done. */
function resistorText(
  { board, input, terminal, common, contact, resistor }: Circuit,
  columns: number,
): string[] {
  if (resistor.work === 'none' || resistor.work === 'remove') return [];
  const atPanel = resistor.at === 'panel';
  const where = !atPanel
    ? ''
    : contact === 'normally-open'
      ? `, across ${terminal} and ${common}`
      : `, between ${terminal} and its conductor`;
  return paragraph(`${board}/${input}: ${resistorWords(resistor)}${where}.`, columns, '  ', '    ');
}

/** What is done to each old zone, and what it must read before and after. */
export function zonesText(plan: Plan, columns: number): string[] {
  if (plan.zones.length === 0) return [];
  const lines = plan.zones.flatMap((zone) => {
    const loop = [...plan.survey.zones, ...plan.survey.tampers].find(({ id }) => id === zone.id)!;
    const at = (id: string) => {
      const point = plan.points.find((candidate) => candidate.id === id);
      return point
        ? `${windowWords(point.window)}${point.judgesContact ? '' : ' (detectors unpowered)'}`
        : null;
    };
    const parted = zone.joins
      .filter(({ part }) => part)
      .map(({ id, conductors }) => `${nameOf(id)} (${conductors.join(' from ')})`);
    const kept = zone.joins
      .filter(({ part }) => !part)
      .map(({ id, conductors }) => `${nameOf(id)} (${conductors.join(' with ')})`);
    const found = at(`found.${zone.id}.rest`);
    const field = at(`lifted.${zone.id}.rest`);
    const bare = at(`bare.${zone.id}.rest`);
    const sentences = [
      `Lift ${zone.lift.conductors.join(' and ')} off screw ${zone.lift.terminal}.`,
      found === null ? '' : `Screws ${loop.terminals.join(' to ')} read ${found} at rest as found`,
      field === null
        ? '.'
        : `, ${zone.lift.conductors[0]} to screw ${loop.terminals.find((one) => one !== zone.lift.terminal)} ${field} once lifted${workedWords(plan, zone.id)}.`,
      ` Resistor: ${zoneResistorWords(zone)}${bare === null ? '' : `, then ${bare}`}${leftWords(plan, zone.id)}.`,
      parted.length > 0 ? ` Part ${parted.join(', ')}.` : '',
      kept.length > 0 ? ` Leave ${kept.join(', ')} joined.` : '',
    ];
    const name = 'name' in loop && loop.name !== zone.id ? `${loop.name}. ` : '';
    const text = `${name}${sentences[0]} ${sentences.slice(1).join('')}`;
    return paragraph(text, columns, `${zone.id}  `, '    ');
  });
  const split = plan.points.filter(({ phase, id }) => phase === 'split' && id.endsWith('.rest'));
  const pairs = split.flatMap((point) =>
    paragraph(
      `${point.between.join(' to ')}: ${windowWords(point.window)}${point.judgesContact ? '' : ' (detector unpowered)'}`,
      columns,
      `  ${point.id.slice('split.'.length, -'.rest'.length)}, `,
      '    ',
    ),
  );
  return [
    ...heading('Old zones', columns),
    ...lines,
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

/** What the input would make of the zone if its resistor were forgotten. */
function leftWords(plan: Plan, zone: string): string {
  const left = plan.circuits.find(
    ({ fromZone, ifResistorLeft }) => fromZone === zone && ifResistorLeft !== null,
  );
  if (!left) return '';
  const reads = left.ifResistorLeft === 'between' ? 'neither closed nor open' : left.ifResistorLeft;
  return ` (left in, input ${left.board}/${left.input} would read ${reads})`;
}

function nameOf(node: string): string {
  return node.slice(node.indexOf(':') + 1);
}

/** What a zone reads once lifted with a detector worked; nothing where none can be worked without supply. */
function workedWords(plan: Plan, zone: string): string {
  const worked = plan.points.filter(
    ({ zone: of, phase, id }) => of === zone && phase === 'lifted' && id.includes('.active.'),
  );
  const words = [...new Set(worked.map(({ window }) => windowWords(window)))];
  return words.length === 0 ? '' : `, and ${words.join(' or ')} with one worked`;
}
