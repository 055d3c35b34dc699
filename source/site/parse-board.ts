import * as z from 'zod/mini';
import type { Board } from './board.ts';
import { readDocument } from './document.ts';
import {
  checkFields,
  choice,
  conductor,
  count,
  id,
  list,
  partOr,
  quantity,
  terminal,
  words,
} from './fields.ts';
import type { Problem } from './problem.ts';

type BoardRead =
  | { readonly ok: true; readonly board: Board }
  | { readonly ok: false; readonly problems: readonly Problem[] };

const SENSES = ['positive-applied', 'positive-removed', 'negative-applied', 'negative-removed'] as const;
const some = { from: 1e-6 };
const group = z.strictObject;

const boardFile = group({
  format: choice('loopward/board@1'),
  id: z.optional(id('panel')),
  name: z.optional(words()),
  generic: z.optional(choice('true', 'false', 'yes', 'no')),
  supply: group({
    kind: choice('dc'),
    accepts: group({ from: quantity('volts', some), to: quantity('volts', some) }),
    maximum: quantity('amps', some),
  }),
  adapter: group({
    voltage: quantity('volts', some),
    tolerance: z.optional(quantity('fraction', { to: 0.5 })),
    current: quantity('amps', some),
    lead: z.optional(id()),
  }),
  own: group({ standby: quantity('amps') }),
  inputs: z.array(group({ id: id(), terminal: terminal(), common: terminal() })),
  response: z.optional(quantity('seconds', { to: 60 })),
  sensing: group({
    pullUp: quantity('ohms', { from: 1 }),
    reference: quantity('volts', some),
    closedBelow: quantity('volts', some),
    openAbove: quantity('volts', some),
    pullUpTolerance: z.optional(quantity('fraction', { to: 0.5 })),
    inputMaximum: quantity('volts', some),
  }),
  supervision: z.optional(
    partOr(
      group({
        style: choice('series', 'two-resistor'),
        resistor: quantity('ohms', { from: 1 }),
        alarmResistor: z.optional(quantity('ohms', { from: 1 })),
        window: quantity('fraction', { to: 0.9 }),
      }),
      '{style: series, resistor: 4k7, window: 10 %}',
      'none',
    ),
  ),
  aux: group({
    positive: terminal(),
    negative: terminal(),
    current: quantity('amps'),
    mains: quantity('volts', some),
    mainsTolerance: z.optional(quantity('fraction', { to: 0.5 })),
    dropFromBattery: z.optional(quantity('volts')),
  }),
  sounder: z.optional(
    partOr(
      group({
        positive: terminal(),
        negative: terminal(),
        current: quantity('amps'),
        sense: choice(...SENSES),
        limit: z.optional(quantity('seconds', {}, 'none')),
      }),
      '{positive: S+, negative: S-, current: 1 A, sense: positive-applied}',
      'none',
    ),
  ),
  battery: z.optional(
    partOr(
      group({
        voltage: quantity('volts', some),
        capacity: quantity('ampHours', some),
        cutOff: quantity('volts', some),
        float: quantity('volts', some),
        chargeCurrent: quantity('amps', some),
      }),
      '{voltage: 12 V, capacity: 7 Ah, cutOff: 10.5 V, float: 13.7 V, chargeCurrent: 300 mA}',
      'none',
    ),
  ),
  terminals: group({ from: conductor(), to: conductor(), conductors: count(1, 20) }),
  mounting: z.optional(group({ insulate: choice('true', 'false', 'yes', 'no') })),
  network: choice('wired', 'wireless', 'either'),
  notes: list(words(200)),
});

type BoardText = z.infer<typeof boardFile>;

/**
 * Reads a board file. Every problem in it is told, each with line and field.
 *
 * @param file the name to tell problems by
 * @param siteId the id the board has at this site; that of the file stands in for an empty one
 */
export function parseBoard(text: string, file: string, siteId: string): BoardRead {
  const document = readDocument(text, file);
  if ('problems' in document) return { ok: false, problems: document.problems };
  const { value, problems } = checkFields(boardFile, document);
  if (value === null) return { ok: false, problems };
  const found = [...problems, ...contradictions(value).map(document.problem)];
  if (found.length > 0) return { ok: false, problems: found };
  return { ok: true, board: toBoard(value, siteId === '' ? (value.id ?? 'b1') : siteId) };
}

function toBoard(read: BoardText, boardId: string): Board {
  const { sensing, aux, adapter } = read;
  const supervision = presentPart(read.supervision);
  const sounder = presentPart(read.sounder);
  const battery = presentPart(read.battery);
  return {
    id: boardId,
    name: read.name ?? boardId,
    generic: isYes(read.generic),
    supply: {
      kind: 'dc',
      accepts: { fromVolts: read.supply.accepts.from, toVolts: read.supply.accepts.to },
      maximumAmps: read.supply.maximum,
    },
    adapter: {
      volts: adapter.voltage,
      tolerance: adapter.tolerance ?? 0.05,
      amps: adapter.current,
      lead: adapter.lead ?? null,
    },
    own: { standbyAmps: read.own.standby },
    inputs: read.inputs,
    responseSeconds: read.response ?? 0.3,
    sensing: {
      pullUpOhms: sensing.pullUp,
      referenceVolts: sensing.reference,
      closedBelowVolts: sensing.closedBelow,
      openAboveVolts: sensing.openAbove,
      pullUpTolerance: sensing.pullUpTolerance ?? 0.05,
      inputMaximumVolts: sensing.inputMaximum,
    },
    supervision: supervision && {
      style: supervision.style,
      resistorOhms: supervision.resistor,
      alarmResistorOhms: supervision.alarmResistor ?? null,
      window: supervision.window,
    },
    aux: {
      positive: aux.positive,
      negative: aux.negative,
      amps: aux.current,
      mainsVolts: aux.mains,
      mainsTolerance: aux.mainsTolerance ?? 0.05,
      dropFromBatteryVolts: aux.dropFromBattery ?? 0.5,
    },
    sounder: sounder && {
      positive: sounder.positive,
      negative: sounder.negative,
      amps: sounder.current,
      sense: sounder.sense,
      limitSeconds: sounder.limit === undefined || sounder.limit === 'none' ? null : sounder.limit,
    },
    battery: battery && {
      volts: battery.voltage,
      capacityAmpHours: battery.capacity,
      cutOffVolts: battery.cutOff,
      floatVolts: battery.float,
      chargeAmps: battery.chargeCurrent,
    },
    terminals: read.terminals,
    mounting: { insulate: read.mounting === undefined || isYes(read.mounting.insulate) },
    network: read.network,
  };
}

/** What each field allows by itself and the whole cannot be. */
function contradictions(read: BoardText) {
  const { accepts } = read.supply;
  const { sensing, supervision, inputs } = read;
  const ids = inputs.map((input) => input.id);
  const own = inputs.map((input) => input.terminal);
  const commons = inputs.map((input) => input.common);
  const rules: [boolean, (string | number)[], string, string][] = [
    [inputs.length > 0, ['inputs'], 'The board has no inputs.', 'at least one input'],
    [
      accepts.from < accepts.to,
      ['supply', 'accepts', 'to'],
      'The highest supply voltage is not above the lowest.',
      'a voltage above `from`',
    ],
    [
      sensing.closedBelow < sensing.openAbove,
      ['sensing', 'openAbove'],
      'The two thresholds overlap.',
      'a voltage above `closedBelow`',
    ],
    [
      sensing.openAbove < sensing.reference,
      ['sensing', 'openAbove'],
      'An open input never gets that far: the reference is not above it.',
      'a voltage below `reference`',
    ],
    [
      read.terminals.from.areaSquareMillimetres <= read.terminals.to.areaSquareMillimetres,
      ['terminals', 'to'],
      'The thickest conductor is thinner than the thinnest.',
      'a conductor at least as thick as `from`',
    ],
    [
      typeof supervision !== 'object' ||
        (supervision.style === 'two-resistor') === (supervision.alarmResistor !== undefined),
      ['supervision', 'alarmResistor'],
      'Style and resistors do not fit each other.',
      '`alarmResistor` with the style two-resistor, and only with that',
    ],
    ...inputs.flatMap((input, at): [boolean, (string | number)[], string, string][] => [
      [ids.indexOf(input.id) === at, ['inputs', at, 'id'], `Input ${input.id} is here twice.`, 'another id'],
      [
        own.indexOf(input.terminal) === at && !commons.includes(input.terminal),
        ['inputs', at, 'terminal'],
        `Terminal ${input.terminal} has another use as well.`,
        'a terminal of its own for each input',
      ],
    ]),
  ];
  return rules.filter(([fits]) => !fits).map(([, at, says, wanted]) => ({ at, says, accepts: wanted }));
}

const isYes = (text: 'true' | 'false' | 'yes' | 'no' | undefined) => text === 'true' || text === 'yes';

function presentPart<T extends object>(read: T | 'none' | undefined): T | null {
  return typeof read === 'object' ? read : null;
}
