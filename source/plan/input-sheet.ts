import type { DetectorKind } from '../site/survey.ts';
import type { Circuit, Plan } from './plan.ts';

/** What has to be typed into whatever configures the board, for one of its inputs. */
export type InputRow = {
  readonly board: string;
  readonly input: string;
  readonly terminal: string;
  readonly common: string;
  /** What it is called at the receiving side: each name once at this site; '' where nothing hangs on it. */
  readonly name: string;
  readonly detectors: readonly {
    readonly id: string;
    readonly name: string;
    /** Of a lid or another part of a tamper loop: `tamper`, and no place. */
    readonly kind: DetectorKind | 'tamper';
    readonly place: string | null;
  }[];
  readonly contact: 'normally-closed' | 'normally-open' | 'unknown' | null;
  /** What it shows while all is quiet: null where nothing hangs on it. */
  readonly rest: 'open' | 'closed' | null;
  /** The resistor that the input must expect; null where it takes the bare contact. */
  readonly resistorOhms: number | null;
  /** Of a board that tells tamper from alarm by two resistors: the one across each contact. */
  readonly alarmResistorOhms: number | null;
  /** The shortest pulse of what hangs on it, in seconds; `needs-analyser` where a bare input misses it. */
  readonly pulse: number | 'none' | 'needs-analyser' | 'unknown' | null;
  /** The shortest change that the input reports. */
  readonly responseSeconds: number;
  /** Reports day and night, whether the site is set or not. */
  readonly always: boolean;
};

// Common practice, no source: what tells of a person in need, of water or of a machine waits for no setting.
const ALWAYS: ReadonlySet<DetectorKind> = new Set(['panic', 'flood', 'temperature', 'technical']);

/**
 * The input sheet: every input of every board, the unused ones too, in the order of the terminals. The card that names the
 * inputs, the command that prints them and the mapping of what is heard all read it here.
 */
export function inputSheet(plan: Plan): readonly InputRow[] {
  const rows = plan.boards.flatMap((board) =>
    board.inputs.map((input): InputRow => {
      const circuit = plan.circuits.find((one) => one.board === board.id && one.input === input.id);
      const at = { board: board.id, input: input.id, terminal: input.terminal, common: input.common };
      const { responseSeconds } = board;
      return circuit === undefined
        ? { ...at, ...UNUSED, responseSeconds }
        : { ...at, ...rowOf(plan, circuit), responseSeconds };
    }),
  );
  const taken = new Map<string, number>();
  return rows.map((row) => {
    const times = (taken.get(row.name) ?? 0) + 1;
    taken.set(row.name, times);
    return row.name === '' || times === 1 ? row : { ...row, name: `${row.name} (${times})` };
  });
}

const UNUSED = {
  name: '',
  detectors: [],
  contact: null,
  rest: null,
  resistorOhms: null,
  alarmResistorOhms: null,
  pulse: null,
  always: false,
} as const;

function rowOf(plan: Plan, circuit: Circuit) {
  const isTamper = circuit.purpose === 'tamper';
  const known = new Map(plan.survey.detectors.map((one) => [one.id, one]));
  const found = circuit.detectors.flatMap((id) => known.get(id) ?? []);
  const detectors = circuit.detectors.map((id) => {
    const { name, kind, place } = known.get(id) ?? { name: id, kind: 'tamper' as const, place: null };
    return { id, name, kind, place };
  });
  const supervision = plan.boards.find(({ id }) => id === circuit.board)?.supervision ?? null;
  const names = detectors.map(({ name }) => name).join(' + ') || circuit.fromZone;
  const pulses = found.map(({ pulse }) => pulse);
  const shortest = pulses.filter((pulse) => typeof pulse === 'number').sort((a, b) => a - b)[0];
  return {
    name: isTamper ? `Tamper ${names}` : names,
    detectors,
    contact: circuit.contact,
    rest: circuit.contact === 'normally-open' ? ('open' as const) : ('closed' as const),
    resistorOhms: supervision?.resistorOhms ?? null,
    alarmResistorOhms: supervision?.alarmResistorOhms ?? null,
    pulse: pulses.includes('needs-analyser')
      ? ('needs-analyser' as const)
      : (shortest ?? (pulses.includes('unknown') ? ('unknown' as const) : ('none' as const))),
    always: isTamper || found.some(({ kind }) => ALWAYS.has(kind)),
  };
}
