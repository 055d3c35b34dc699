import type { Circuit } from './circuits.ts';
import { groupBy, type Pair } from './pairs.ts';
import type { Trouble } from './problem.ts';
import { homeScrew } from './screws.ts';
import type { Cable, Detector, LoopStyle, Survey } from './survey.ts';

/** A pair that comes to the panel, in the direction in which its loop passes it. */
export type Run = {
  readonly pair: Pair;
  /** Core numbers: the one towards the circuit's first terminal, and the one back. */
  readonly out: number;
  readonly back: number;
};

/** How the runs of a circuit meet at the panel. */
export type PanelSide = {
  /** One after the other from the first terminal to the second; `lid` is the switch in the panel. */
  readonly inSeries: readonly (Run | 'lid')[];
  /** Each from the first terminal to the second by itself. */
  readonly inParallel: readonly Run[];
  readonly troubles: readonly Trouble[];
};

/** Whether a detector's contact lies across its loop and not in it. */
export function liesAcross(style: LoopStyle, contact: Detector['contact']): boolean {
  if (style === 'across') return true;
  if (style === 'series' || style === 'bridged') return false;
  return contact === 'normally-open';
}

/** The screw on which a core of a circuit ends, where the survey or the panel's terminals tell. */
export class Screws {
  readonly #cables: ReadonlyMap<string, { readonly cable: Cable; readonly index: number }>;
  readonly #returns = new Map<string, ReadonlySet<string>>();
  readonly #survey: Survey;

  constructor(survey: Survey, pairs: readonly Pair[], circuits: readonly Circuit[]) {
    this.#survey = survey;
    this.#cables = new Map(survey.cables.map((cable, index) => [cable.id, { cable, index }]));
    const circuitOf = new Map(
      circuits.flatMap((circuit) => circuit.members.map((id) => [id, circuit] as const)),
    );
    for (const [core, users] of groupBy(pairs, (pair) => `${pair.cable}/${pair.second}`)) {
      const [terminals = [], ...others] = users.map((pair) => circuitOf.get(pair.detectors[0]!)!.terminals);
      if (!users[0]!.isShared) continue;
      this.#returns.set(
        core,
        new Set(terminals.filter((name) => others.every((names) => names.includes(name)))),
      );
    }
  }

  /** `several`: nothing tells which of two; `none`: there is no screw that would do for all it serves. */
  of(cable: string, number: number): string | 'several' | 'none' {
    const found = this.#cables.get(cable)!.cable;
    const written = homeScrew(found, number, this.#survey.panel);
    const shared = this.#returns.get(`${cable}/${number}`);
    if (written !== null || shared === undefined) return written ?? 'several';
    if (shared.size !== 1) return shared.size === 0 ? 'none' : 'several';
    return [...shared][0]!;
  }

  at(cable: string, number: number) {
    return ['cables', this.#cables.get(cable)!.index, 'cores', number - 1, 'at'];
  }
}

/**
 * Lays out a circuit's pairs at the panel: the first core of the first cable on the first terminal, the last
 * core of the last on the second, and what lies between joined in the order of the members, unless the screws
 * that the survey names for cores say otherwise.
 *
 * @param pairs those that come to the panel and carry this circuit
 */
export function panelSide(
  circuit: Circuit,
  pairs: readonly Pair[],
  screws: Screws,
  lies: (detector: string) => 'in' | 'across',
): PanelSide {
  const [first, second] = circuit.terminals;
  const troubles: Trouble[] = [];
  const inParallel: Run[] = [];
  const starts: Run[] = [];
  const ends: Run[] = [];
  const between: (Run | 'lid')[] = [];
  for (const member of circuit.members) {
    if (member === 'lid') between.push('lid');
    const pair = pairs.find((candidate) => candidate.detectors[0] === member);
    if (pair === undefined) continue;
    const on = [screws.of(pair.cable, pair.first), screws.of(pair.cable, pair.second)] as const;
    const foreign = on.findIndex((screw) => screw !== 'several' && screw !== first && screw !== second);
    if (foreign >= 0 || (on[0] === on[1] && on[0] !== 'several')) {
      const number = foreign === 0 ? pair.first : pair.second;
      const where = foreign < 0 ? `both cores of ${member} sit on ${on[0]}` : whereOf(on[foreign]!);
      const says = `${circuit.id} is on terminals ${first} and ${second}, but ${where}.`;
      troubles.push({ at: screws.at(pair.cable, number), says, accepts: `${first} or ${second}` });
      continue;
    }
    const isTurned = on[0] === second || on[1] === first;
    const run = { pair, out: isTurned ? pair.second : pair.first, back: isTurned ? pair.first : pair.second };
    const isStart = on.includes(first);
    const isEnd = on.includes(second);
    if (lies(member) === 'across') inParallel.push(run);
    else if (isStart && isEnd) starts.push(run);
    else (isStart ? starts : isEnd ? ends : between).push(run);
  }
  const inSeries = [...starts, ...between, ...ends];
  const closesAlone =
    inSeries.length > 1 ? starts.find((run) => !isPlainStart(run, screws, second)) : undefined;
  const crowd = closesAlone ?? (starts.length > 1 ? starts[1] : ends.length > 1 ? ends[1] : undefined);
  if (crowd !== undefined) {
    troubles.push({
      at: screws.at(crowd.pair.cable, crowd.back),
      says: `The detectors of ${circuit.id} are in series: only one core can sit on each of its terminals.`,
      accepts: 'a style in which they are across the loop, or `at` for the two end cores alone',
    });
  }
  return { inSeries, inParallel, troubles };
}

/** True unless the run's other end is on the second terminal: then it is the whole loop. */
function isPlainStart(run: Run, screws: Screws, second: string): boolean {
  return screws.of(run.pair.cable, run.back) !== second;
}

function whereOf(screw: string): string {
  return screw === 'none' ? 'its return also serves loops on other terminals' : `this core sits on ${screw}`;
}
