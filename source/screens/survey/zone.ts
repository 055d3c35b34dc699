import { identifyLoop, type LoopCandidate } from '../../electrical/identify.ts';
import { formatQuantity, parseQuantity } from '../../electrical/quantity.ts';
import type { Written } from '../../site/document.ts';
import type { SurveyBuilder } from './builder.ts';
import { COMMON_KINDS, isPowered, OTHER_KINDS, usualPlace } from './kinds.ts';
import { CONDUCTORS, STYLES } from './options.ts';
import { choice, currents, figure, pair, type Question, words } from './question.ts';

type Asking<T> = Generator<Question, T, string>;

/** One zone with its detectors; false where there is none any more. */
export function* zone(builder: SurveyBuilder, number: number): Asking<boolean> {
  const id = `z${number}`;
  const { last } = builder;
  const end = number === 1 ? {} : { standard: '' };
  const asks =
    number === 1 ? 'What is the first zone called?' : 'What is the next zone called? (Enter: no more)';
  const name = yield words({ id: `${id}.name`, about: `Zone ${number}`, asks, ...end });
  if (name === '') return false;
  const about = `Zone ${number}, ${name}`;
  const standard = nextPair(last.terminals);
  const terminals = yield pair({
    id: `${id}.terminals`,
    about,
    asks: 'Its two screws',
    ...(standard !== null && { standard }),
  });
  last.terminals = terminals;
  const loop = yield* loopOf(builder, id, about);
  const detectors: string[] = [];
  let field = false;
  let cable: string | null = null;
  for (let each = 1; ; each++) {
    const made: Made | null = yield* detector(builder, `${id}.d${each}`, about, each, cable, loop.contact);
    if (made === null) break;
    detectors.push(made.id);
    field ||= made.goesOn;
    cable = made.cable;
  }
  builder.addZone({
    id,
    name,
    terminals: terminals.split(' '),
    loop: loop.written,
    ...(detectors.length > 1 && { joined: field ? 'field' : 'panel' }),
    detectors: detectors.map((one) => one),
  });
  const held =
    loop.at === 'detector'
      ? { resistorAt: detectors.length === 1 ? { detector: detectors[0]! } : 'unknown' }
      : {};
  Object.assign(loop.written, held);
  return true;
}

/**
 * The pair of screws that comes next on most strips: a common between two zones, shared by both.
 *
 * @example nextPair('8 9') // => '10 9'
 */
export function nextPair(last: string): string | null {
  const [first, second] = last.split(' ').map(Number);
  if (first === undefined || second === undefined || !Number.isInteger(first) || !Number.isInteger(second))
    return null;
  return first < second ? `${second + 1} ${second}` : `${first + 1} ${first + 2}`;
}

type LoopSaid = { written: { [key: string]: Written }; contact: string; at: string };

function* loopOf(builder: SurveyBuilder, id: string, about: string): Asking<LoopSaid> {
  const { last } = builder;
  const standard = last.style === '' ? null : last.style;
  const said = yield choice(
    { id: `${id}.style`, about, asks: 'What is its loop like?', standard },
    ...STYLES,
    ['read', 'I do not know: find out from a reading'],
  );
  const found = said === 'read' ? yield* identified(id, about) : null;
  const style = found?.style ?? said;
  last.style = style;
  const contact = style === 'across' ? 'normally-open' : 'normally-closed';
  if (style === 'plain') return { written: { style }, contact, at: 'panel' };
  const resistor =
    found?.resistorOhms != null
      ? formatQuantity(found.resistorOhms, 'ohms')
      : yield figure(
          {
            id: `${id}.resistor`,
            about,
            asks: 'Its resistor, in ohms',
            standard: last.resistor === '' ? 'unknown' : last.resistor,
          },
          'ohms',
        );
  last.resistor = resistor;
  const alarm =
    style === 'two-resistor'
      ? {
          alarmResistor: yield figure(
            {
              id: `${id}.alarmResistor`,
              about,
              asks: 'The one across the contact, in ohms',
              standard: resistor,
            },
            'ohms',
          ),
        }
      : {};
  const at = yield choice(
    { id: `${id}.at`, about, asks: 'Where does the resistor sit?', standard: last.at },
    ['panel', 'at the panel'],
    ['detector', 'out at the detector'],
    ['unknown', 'nobody knows'],
  );
  last.at = at;
  const resistorAt = at === 'detector' ? {} : { resistorAt: at };
  return { written: { style, resistor, ...alarm, ...resistorAt }, contact, at };
}

// What the loop may be, from what the meter shows with everything at rest.
function* identified(id: string, about: string): Asking<LoopCandidate | null> {
  const typed = yield figure(
    {
      id: `${id}.reading`,
      about,
      asks: 'All at rest and shut: what does the meter read across it, in ohms?',
      standard: null,
    },
    'ohms',
  );
  const read = parseQuantity(typed, 'ohms', 'field-unit');
  const found = read.ok ? identifyLoop({ restOhms: read.value }).candidates.slice(0, 6) : [];
  if (found.length === 0) return null;
  const picked = yield choice(
    { id: `${id}.identified`, about, asks: 'That may be one of these, the likeliest first. Which is it?' },
    ...found.map((one, index) => [String(index), one.says] as const),
  );
  return found[Number(picked)] ?? null;
}

export type Made = { readonly id: string; readonly cable: string; readonly goesOn: boolean };

/** One detector with its cable; null where there is none any more. */
export function* detector(
  builder: SurveyBuilder,
  id: string,
  zoneName: string,
  number: number,
  cableBefore: string | null,
  contact: string,
): Asking<Made | null> {
  const first = number === 1;
  const name = yield words({
    id: `${id}.name`,
    about: zoneName,
    asks: first ? 'What is its first detector called?' : 'Its next detector? (Enter: no more)',
    ...(first ? {} : { standard: '' }),
  });
  if (name === '') return null;
  const about = `${zoneName}: ${name}`;
  const common = yield choice({ id: `${id}.kind`, about, asks: 'What is it?' }, ...COMMON_KINDS, [
    'other',
    'something else',
  ]);
  const kind =
    common === 'other'
      ? yield choice({ id: `${id}.kind2`, about, asks: 'What is it, then?' }, ...OTHER_KINDS)
      : common;
  const goesOn =
    cableBefore !== null &&
    (yield choice(
      { id: `${id}.joined`, about, asks: 'How is it joined to the one before?', standard: 'panel' },
      ['panel', 'its own cable comes to the panel'],
      ['field', 'it goes on from the one before, out in the building'],
    )) === 'field';
  const length = yield figure({ id: `${id}.length`, about, asks: 'How long is its cable?' }, 'metres');
  const powered = isPowered(kind);
  const four = powered ? 'four' : 'two';
  const cores = yield choice(
    { id: `${id}.cores`, about, asks: 'The cable’s cores', standard: four },
    ['two', 'two: white and brown'],
    [
      'four',
      powered
        ? 'four: yellow and blue for the loop, red and black for its supply'
        : 'four: yellow and blue for the loop, red and black spare',
    ],
    ['typed', 'other colours'],
  );
  const colours =
    cores === 'typed'
      ? yield words({
          id: `${id}.colours`,
          about,
          asks: 'Their colours: the loop’s two first, then the supply’s',
        })
      : COLOURS[cores]!;
  const held = builder.last.conductors;
  const conductor = yield choice(
    {
      id: `${id}.conductor`,
      about,
      asks: 'Their size',
      standard: held[cores] ?? (cores === 'four' ? '0.22 mm2' : '22 AWG'),
    },
    ...CONDUCTORS,
  );
  held[cores] = conductor;
  const draws = powered
    ? yield currents({ id: `${id}.current`, about, asks: 'What it draws at rest and in alarm, in mA' })
    : 'none';
  const cable = builder.addCable({
    length,
    conductor,
    ...(goesOn && { from: cableBefore! }),
    cores: coresOf(colours, powered),
  });
  const made = builder.idFor(name);
  builder.addDetector({ id: made, name, kind, contact, place: usualPlace(kind), cable, ...supplyOf(draws) });
  return { id: made, cable, goesOn };
}

const COLOURS: Readonly<Record<string, string>> = { two: 'white brown', four: 'yellow blue red black' };

function coresOf(colours: string, powered: boolean): readonly (readonly [string, string])[] {
  const uses = powered ? ['loop', 'loop', 'aux-positive', 'aux-negative'] : ['loop', 'loop'];
  return colours.split(/[ ,]+/).map((colour, index) => [colour, uses[index] ?? 'spare'] as const);
}

function supplyOf(draws: string): { supply?: Written } {
  if (draws === 'none' || draws === 'unknown') return {};
  const [standby, alarm] = draws.split(' ');
  return { supply: { standby: `${standby} mA`, ...(alarm !== undefined && { alarm: `${alarm} mA` }) } };
}
