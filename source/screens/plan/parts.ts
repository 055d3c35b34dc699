import { formatQuantity } from '../../electrical/quantity.ts';
import type { BoardSupply, Circuit, Connection, OhmsWindow, Plan, SounderSupply } from '../../plan/plan.ts';
import { arrivingWords, batteryWords, type LoadRow, loadRows } from '../../plan/text/supply-words.ts';
import { windowWords } from '../../plan/text/words.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import type { Tone } from '../draw/palette.ts';
import { wrapMarked, wrapped, wrapText } from '../draw/wrap.ts';
import { inUnits } from '../units.ts';

/** A part of the plan's screen: a title and its rows. Findings are a list of their own. */
type PlanPart = {
  readonly title: string;
  readonly lines: (plan: Plan, room: Room) => readonly Line[];
};

export const PLAN_PARTS: readonly PlanPart[] = [
  { title: 'Findings', lines: () => [] },
  {
    title: 'Circuits',
    lines: (plan, room) => plan.circuits.flatMap((circuit) => circuitLines(plan, circuit, room)),
  },
  {
    title: 'Supply',
    lines: (plan, room) => plan.supply.flatMap((supply) => supplyLines(plan, supply, room)),
  },
  { title: 'As found', lines: (plan, room) => foundLines(plan, room) },
  { title: 'As it will be', lines: (plan, room) => willBeLines(plan, room) },
  {
    title: 'Parts',
    lines: (plan, room) => [
      ...plan.parts.map(
        (part): Line => [{ text: `${part.count}`.padStart(5), bold: true }, { text: `  ${part.item}` }],
      ),
      ...(plan.assumed.length > 0
        ? [EMPTY, [{ text: `Assumed, not seen (${plan.assumed.length})`, bold: true }]]
        : []),
      ...plan.assumed.flatMap((one) =>
        wrapMarked(
          { text: `  ${room.glyphs.doubt} `, tone: 'unproven' },
          `${one.about} ${one.field}: ${inUnits(one.value, room.units)}`,
          room.columns,
        ),
      ),
    ],
  },
];

function ohms(window: OhmsWindow | undefined): string {
  if (!window || window.expected === null) return 'not judged';
  return windowWords({ ...window, usable: null });
}

function circuitLines(plan: Plan, circuit: Circuit, room: Room): readonly Line[] {
  const names = circuit.detectors.map((id) => plan.survey.detectors.find((one) => one.id === id)?.name ?? id);
  const work =
    circuit.resistor.work === 'none'
      ? 'no resistor'
      : `${circuit.resistor.work} resistor${circuit.resistor.ohms === null ? '' : ` ${formatQuantity(circuit.resistor.ohms, 'ohms')}`}`;
  return [
    [
      {
        text: padText(`${circuit.board} ${circuit.terminal}+${circuit.common}`, 12),
        bold: true,
        tone: 'focus',
      },
      { text: names.join(' + '), bold: true },
      { text: `  from ${circuit.fromZone}${circuit.split ? ', split' : ''}`, tone: 'quiet' },
    ],
    ...wrapText(
      `${circuit.contact}; at rest ${ohms(circuit.rest)}; worked ${ohms(Object.values(circuit.active)[0])}; ${work}`,
      room.columns - 12,
    ).map((text): Line => [{ text: ' '.repeat(12) }, { text, tone: 'quiet' }]),
  ];
}

function supplyLines(plan: Plan, supply: BoardSupply, room: Room): readonly Line[] {
  const cells = Math.min(40, Math.max(10, room.columns - 40));
  const bar = ({ what, value, limit, words, isOver }: LoadRow): Line => {
    const share = limit > 0 ? Math.min(1, value / limit) : 1;
    const full = Math.round(share * cells);
    const tone: Tone = isOver ? 'bad' : share > 0.8 ? 'caution' : 'good';
    return [
      { text: padText(what, 9) },
      { text: room.glyphs.bar.repeat(full), tone },
      { text: room.glyphs.barEmpty.repeat(cells - full), tone: 'quiet' },
      { text: ` ${words}${isOver ? ' over' : ''}` },
    ];
  };
  const says = batteryWords(plan, supply);
  return [
    [{ text: `Board ${supply.board}`, bold: true }],
    ...loadRows(plan, supply).map(bar),
    ...(says === '' ? [[{ text: 'no battery on this board' }]] : wrapped(says, room.columns)),
    ...[...supply.devices, ...supply.sounders].flatMap((device) => arrivingLines(device, room)),
    EMPTY,
  ];
}

/** A tick only where it is enough at worst too. */
function arrivingLines(device: SounderSupply, room: Room): readonly Line[] {
  const { mains, batteryEnd, worst, needs, isLow, isLowAtWorst } = arrivingWords(device);
  const [sign, tone]: [string, Tone] = isLow
    ? [room.glyphs.failed, 'bad']
    : isLowAtWorst
      ? [room.glyphs.other, 'caution']
      : [room.glyphs.done, 'good'];
  const short = isLow ? ': too little' : isLowAtWorst ? `: too little at worst, ${worst}` : '';
  const says = `${mains} on mains, ${batteryEnd} at battery end, needs ${needs}${short}`;
  return wrapMarked({ text: `${padText(`${sign} ${device.id}`, 14)} `, tone }, says, room.columns);
}

/** The old screws, each with the conductors under it. */
function foundLines(plan: Plan, room: Room): readonly Line[] {
  const screws = [
    ...new Set(
      plan.wiring.conductors.map((one) => one.screw).filter((screw): screw is string => screw !== null),
    ),
  ];
  const ordered = screws.sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
  const rows = ordered.flatMap((screw) => {
    const under = plan.wiring.conductors.filter((one) => one.screw === screw && one.atPanel);
    const zones = [...new Set(under.map((one) => one.zone).filter((zone) => zone !== null))].join(' ');
    return wrapMarked(
      { text: `${room.glyphs.screw} ${padText(screw.replace(/^old:/, ''), 5)}`, bold: true },
      `${under.map((one) => `${one.colour} ${one.id}`).join(', ') || 'nothing'}${zones === '' ? '' : `  (${zones})`}`,
      room.columns,
    );
  });
  return [...rows, EMPTY, ...cableLines(plan, room)];
}

/** The cables that come to them or go on in the building, with their lengths. */
function cableLines(plan: Plan, room: Room): readonly Line[] {
  return plan.survey.cables.flatMap((cable) => {
    const length = formatQuantity(cable.lengthMetres, 'metres', { units: room.units });
    const known = { measured: ', measured', estimated: '', unknown: ', assumed' }[cable.lengthKnown];
    const from = cable.from === 'panel' ? '' : `, on from ${cable.from}`;
    return wrapMarked(
      { text: `${padText(cable.id, 7)} `, bold: true },
      `${length}${known}, ${cable.conductor.name}${from}`,
      room.columns,
    );
  });
}

function willBeLines(plan: Plan, room: Room): readonly Line[] {
  return plan.connections.flatMap((one) => {
    const how = one.by === 'untouched' ? ' stays as it is' : one.by === 'parked' ? '' : `, ${one.by}`;
    const says = `${padText(fromWords(one), 10)} ${room.glyphs.forth} ${toWords(one)}${how}`;
    return wrapMarked(
      { text: `${padText(`${one.colour} ${one.conductor}`, 17)} `, bold: true },
      says,
      room.columns,
    );
  });
}

function fromWords({ from }: Connection): string {
  if ('terminal' in from) return `screw ${from.terminal.replace(/^old:/, '')}`;
  return 'join' in from ? from.join : 'loose';
}

function toWords({ to }: Connection): string {
  if ('board' in to) return `${to.board} ${to.terminal}`;
  if ('joint' in to) return to.joint;
  return 'stays' in to ? to.stays : 'parked, insulated';
}
