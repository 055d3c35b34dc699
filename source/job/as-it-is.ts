import { isSettled, lookUp } from '../procedure/lookup.ts';
import type { JobState, StepStatus } from '../procedure/state.ts';
import type { Procedure } from '../procedure/step.ts';
import type { Act } from '../wiring/act.ts';
import { type Done, fold } from '../wiring/act-on.ts';
import type { NodeId, Wiring } from '../wiring/wiring.ts';
import { actsInOrder, subjectsOf } from './acts-done.ts';
import { FoldOn } from './fold-on.ts';
import type { StepResult } from './records.ts';

/** What is joined to what at one moment of the work, with the record that made each thing so. */
export type Standing = {
  readonly wiring: Wiring;
  /** By wire, resistor, source, board or other thing: the number of its last record. What nobody touched has none. */
  readonly by: Readonly<Record<string, number>>;
};

/** What was recorded of steps, by step. */
type Results = ReadonlyMap<string, readonly StepResult[]>;

/** What a site's wiring was found as, ready to be worked on, and what has been folded over it so far. */
type Worked = {
  readonly start: Wiring;
  readonly handlings: Handlings;
  readonly now: FoldOn;
  readonly planned: FoldOn;
};

const works = new WeakMap<Wiring, WeakMap<Procedure, Worked>>();

function workedOn(asFound: Wiring, procedure: Procedure): Worked {
  const byProcedure = works.get(asFound) ?? new WeakMap<Procedure, Worked>();
  works.set(asFound, byProcedure);
  const known = byProcedure.get(procedure) ?? {
    start: readyFor(asFound, procedure),
    handlings: new Handlings(asFound),
    now: new FoldOn(),
    planned: new FoldOn(),
  };
  byProcedure.set(procedure, known);
  return known;
}

/** The wiring as it is: as found, with all on top that was recorded as done, in the order of the records. */
export function asItIs(asFound: Wiring, procedure: Procedure, state: JobState, results: Results): Standing {
  const { start, handlings, now } = workedOn(asFound, procedure);
  const recorded = actsInOrder(results);
  const halfWay = procedure.steps
    .filter(({ id, acts }) => acts.length > 0 && isHalfWay(state.context.status[id], results.get(id)))
    .flatMap(({ id, acts }) => {
      const n = results.get(id)?.at(-1)?.n;
      return acts.map((act) => ({ n, act, went: 'unknown' as const }));
    });
  const handled = (one: { readonly act: Act; readonly went: Done['went'] }): Done => ({
    act: handlings.of(one.act),
    went: one.went,
  });
  const settled = now.fold(start, recorded.map(handled));
  const { wiring, misfits } = fold(settled.wiring, halfWay.map(handled));
  const misfit = new Set([...settled.misfits, ...misfits].map(({ act }) => act));
  const by: Record<string, number> = {};
  for (const { n, act, went } of [...recorded, ...halfWay])
    if (n !== undefined && went !== 'not-done' && !misfit.has(handlings.of(act)))
      for (const subject of subjectsOf(act)) by[subject] = n;
  return { wiring: withoutEmptyLegs(wiring), by };
}

const LEG = /^([^:]+:[^:]+):resistor$/;

/** The terminal at which a place is, where it is the free leg of a resistor there; any other place as it is. */
export function terminalOf(node: NodeId): NodeId {
  return LEG.exec(node)?.[1] ?? node;
}

/** A wire on the leg of a resistor that is not there is on the terminal itself. */
function withoutEmptyLegs(wiring: Wiring): Wiring {
  const legs = new Set(wiring.resistors.flatMap(({ a, b }) => [a, b]));
  if (wiring.conductors.every(({ near }) => !LEG.test(near) || legs.has(near))) return wiring;
  const conductors = wiring.conductors.map((one) =>
    legs.has(one.near) ? one : { ...one, near: terminalOf(one.near) },
  );
  return { ...wiring, conductors };
}

/** The wiring as it was to be by now: every act of every card that is settled, as the card said, in the order of the records. */
export function asPlanned(asFound: Wiring, procedure: Procedure, state: JobState, results: Results): Wiring {
  const { start, handlings, planned } = workedOn(asFound, procedure);
  const { steps } = lookUp(procedure);
  const settled = [...results].filter(
    ([id]) => isSettled(state.context.status[id]) || steps.get(id)?.repeatable === true,
  );
  const acts = actsInOrder(new Map(settled)).map(
    ({ act }): Done => ({ act: handlings.of(act), went: 'done' }),
  );
  return planned.fold(start, acts).wiring;
}

/**
 * Whether nobody can say how far a card is done: it was begun, or tried in vain. One that is to be looked at again, but
 * that nobody has begun since it passed, stands as its record says.
 */
function isHalfWay(status: StepStatus | undefined, tries: readonly StepResult[] = []): boolean {
  if (status === 'begun' || status === 'failed') return true;
  return status === 'unknown' && !tries.some(({ acts }) => acts !== null);
}

/** A wire that is said to be landed is there, whether or not its board was said to be mounted. */
function readyFor(asFound: Wiring, { steps }: Procedure): Wiring {
  const ends = steps.flatMap(({ acts }) => acts.flatMap((act) => (act.do === 'land' ? [act.at] : [])));
  const boards = ends.flatMap((at) => /^(?:joint:([^/]+)\/|([^:]+):)/.exec(at)?.slice(1, 3) ?? []);
  return {
    ...asFound,
    mounted: [...new Set([...asFound.mounted, ...boards.filter((one) => one !== undefined)])],
  };
}

/** Acts as the wiring takes them, the same object for the same act. */
class Handlings {
  readonly #known = new Map<Act, Act>();
  readonly #jumpers: ReadonlySet<string>;

  constructor({ resistors }: Wiring) {
    this.#jumpers = new Set(resistors.filter(({ by }) => by === 'jumper').map(({ id }) => id));
  }

  of(act: Act): Act {
    const known = this.#known.get(act) ?? this.#make(act);
    this.#known.set(act, known);
    return known;
  }

  /** Cards of before say the place of a resistor that is fitted, not its two ends, and take a jumper out like a part. */
  #make(act: Act): Act {
    if (act.do === 'fit-resistor' && (act as Partial<typeof act>).between === undefined)
      return { ...act, between: endsOf(act) };
    if (act.do === 'remove-resistor' && this.#jumpers.has(act.resistor))
      return { ...act, do: 'set-jumper', ohms: null, leaves: 'through' };
    return act;
  }
}

function endsOf({
  circuit,
  detector,
  zone,
}: Extract<Act, { do: 'fit-resistor' }>): readonly [string, string] {
  const at = circuit ? `${circuit.board}/${circuit.input}` : (detector ?? zone);
  return [`unknown:${at}.a`, `unknown:${at}.b`];
}
