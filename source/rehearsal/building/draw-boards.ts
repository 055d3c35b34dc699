import type { Board } from '../../site/board.ts';
import type { Bridge, Load, Output, Rail, Source } from './building.ts';
import { battery } from './draw-panel.ts';
import type { Random } from './random.ts';

const TRACK_OHMS = 0.02;
/** Behind each output of a board: its switch and its fuse. From memory. */
const OUTPUT_OHMS = 0.1;
/** A board's supply rails while nothing feeds them, as a meter sees them: from memory. */
const IDLE_OHMS = 30e3;

/** The new boards, still without supply: their terminals, their inputs and what will feed them. */
export function drawBoards(boards: readonly Board[], random: Random) {
  const drawn = boards.map((board) => drawBoard(board, random.stream(board.id)));
  return {
    bridges: drawn.flatMap(({ bridges }) => bridges),
    rails: drawn.flatMap(({ rails }) => rails),
    sources: drawn.flatMap(({ sources }) => sources),
    loads: drawn.map(({ load }) => load),
    outputs: boards.flatMap(outputOf),
  };
}

function drawBoard(board: Board, random: Random) {
  const { id, aux, sensing, adapter } = board;
  const at = (terminal: string) => `${id}:${terminal}`;
  const negative = at('negative');
  const tracks = new Set([aux.negative, ...board.inputs.map(({ common }) => common)]);
  const pull = () =>
    sensing.pullUpOhms * random.between(1 - sensing.pullUpTolerance, 1 + sensing.pullUpTolerance);
  const bridges: Bridge[] = [
    ...[...tracks].map((terminal) => track(at(terminal), negative, TRACK_OHMS)),
    ...board.inputs.map(({ terminal }) => track(at(terminal), at('reference'), pull())),
  ];
  const sources = [adapterOf(board, random), ...batteryOf(board, random)];
  const auxVolts =
    aux.mainsVolts * random.between(1 - 0.8 * aux.mainsTolerance, 1 + 0.8 * aux.mainsTolerance);
  const rail = (
    name: string,
    terminal: string,
    mains: number,
    onBattery: (volts: number) => number,
  ): Rail => ({
    id: `${id}:${name}`,
    plus: at(terminal),
    minus: negative,
    innerOhms: OUTPUT_OHMS,
    fedBy: sources.map(({ name: source, volts, innerOhms }, index) => ({
      source,
      volts: index === 0 ? mains : onBattery(volts),
      innerOhms,
    })),
    idleOhms: IDLE_OHMS,
  });
  const reference = sensing.referenceVolts * random.between(0.99, 1.01);
  const rails = [
    rail('aux', aux.positive, auxVolts, (volts) => volts - aux.dropFromBatteryVolts),
    rail('inputs', 'reference', reference, () => reference),
  ];
  const load: Load = {
    device: id,
    positive: at('supply'),
    negative,
    standbyAmps: board.own.standbyAmps * random.between(0.85, 1),
    alarmAmps: board.own.standbyAmps,
    minimumVolts: board.supply.accepts.fromVolts * 0.9,
    idleOhms: IDLE_OHMS,
  };
  return { bridges, rails, sources, load, volts: adapter.volts };
}

/** The pole that an output does not switch stands on its rail all the time. */
function outputOf({ id, aux, sounder }: Board): Output[] {
  if (sounder === null) return [];
  const at = (terminal: string) => `${id}:${terminal}`;
  const [pole, change] = sounder.sense.split('-');
  const [positive, negative] = [
    { board: id, a: at(aux.positive), b: at(sounder.positive) },
    { board: id, a: at('negative'), b: at(sounder.negative) },
  ];
  const atRest = change === 'removed' ? 'closed' : 'open';
  const switched = { ...(pole === 'positive' ? positive : negative), atRest } as const;
  const steady = pole === 'positive' ? negative : positive;
  // Steady means closed whether it is in alarm or not: a board of no name is never in alarm.
  const isOwn = steady.a !== steady.b && sounder.negative !== aux.negative;
  return isOwn || pole === 'negative' ? [switched, { ...steady, board: '', atRest: 'closed' }] : [switched];
}

const track = (a: string, b: string, ohms: number): Bridge => ({ id: `${a}-${b}`, a, b, ohms });

const posts = (name: string) => ({ plus: `${name}+`, minus: `${name}-` });

function adapterOf({ id, adapter }: Board, random: Random): Source {
  const name = `adapter:${id}`;
  return {
    name,
    mode: 'dc',
    volts: adapter.volts * random.between(1 - 0.8 * adapter.tolerance, 1 + 0.8 * adapter.tolerance),
    innerOhms: 0.05,
    ...posts(name),
    joins: [`${id}:supply`, `${id}:negative`],
    connected: false,
    induced: false,
    feedsBoard: id,
  };
}

function batteryOf({ id, battery: fitted }: Board, random: Random): Source[] {
  if (fitted === null) return [];
  const joins = [`${id}:battery`, `${id}:negative`] as const;
  return [{ ...battery(`board-battery:${id}`, joins, random), connected: false }];
}
