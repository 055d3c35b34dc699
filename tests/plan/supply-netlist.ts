import type { Plan } from '../../source/plan/plan.ts';
import type { Board } from '../../source/site/board.ts';
import type { Cable } from '../../source/site/survey.ts';

/** Copper at 20 °C and its temperature coefficient: IEC 60028. */
const RESISTIVITY = 0.017241;
const PER_KELVIN = 0.00393;
/** Stranded over solid: NFPA 70 Ch. 9 Table 8, 3.14 against 3.07 Ω/kft. */
const STRANDING = 1.025;
/** Highest Ω/km at 20 °C: DIN VDE 0295 extract (0.22, 0.34), IEC 60228:2004 class 5 (0.5, 0.75). 7/0.25 is sold as 0.34. */
const MOST_OHMS: Readonly<Record<string, number>> = {
  '0.22 mm2': 96,
  '0.34 mm2 (7/0.25)': 53,
  '0.5 mm2': 39,
  '0.75 mm2': 26,
};

export type Drawn = {
  /** In which case, and whether the worst copper and longest cable or the nominal. */
  readonly supply: 'mains' | 'batteryEnd';
  readonly copper: 'nominal' | 'worst';
};

/** One way over one conductor, from the published figures alone. */
function wayOhms(cable: Cable, celsius: number, copper: Drawn['copper']): number {
  const warm = 1 + PER_KELVIN * (celsius - 20);
  const { areaSquareMillimetres, name, system } = cable.conductor;
  const nominal = (RESISTIVITY / areaSquareMillimetres) * warm;
  if (copper === 'nominal') return nominal * cable.lengthMetres;
  const longest = cable.lengthMetres * { measured: 1.05, estimated: 1.3, unknown: 2 }[cable.lengthKnown];
  return longest * (system === 'awg' ? nominal * STRANDING : (MOST_OHMS[name]! / 1000) * warm);
}

/**
 * A site's supply as ngspice sees it, conductor by conductor with each panel end where the plan lands it: nothing of
 * the planner's trees is used. Names begin with a prefix, so that many sites are solved in one run.
 */
export class SupplyNetlist {
  readonly elements: string[] = [];
  readonly #names = new Map<string, string>();
  readonly #prefix: string;
  readonly #plan: Plan;

  constructor(prefix: string, plan: Plan, board: Board, drawn: Drawn) {
    this.#prefix = prefix;
    this.#plan = plan;
    const { survey, wiring } = plan;
    const { lead } = board.adapter;
    const landed = new Map(plan.connections.map((connection) => [connection.conductor, connection.to]));
    wiring.conductors.forEach(({ id, cable: of, near, far, use }, at) => {
      if (use === 'loop') return;
      const cable = survey.cables.find((one) => one.id === of)!;
      const to = landed.get(id)!;
      const end =
        'terminal' in to ? railOf(board, to.terminal) : 'joint' in to ? to.joint : 'stays' in to ? near : id;
      const ohms = wayOhms(cable, survey.conditions.cableCelsius, drawn.copper);
      this.elements.push(`r${prefix}w${at} ${this.#node(end)} ${this.#node(far)} ${ohms}`);
    });
    this.#source(board, lead, drawn);
    for (const [at, { device, positive, negative, amps }] of this.#loads(board).entries())
      this.elements.push(
        `i${prefix}l${at} ${this.#node(positive)} ${this.#node(negative)} ${amps}`,
        `* ${device}`,
      );
  }

  /** What arrives at a device in the solved circuit. */
  volts(solved: ReadonlyMap<string, number>, device: string): number {
    const { positive, negative } = this.#plan.wiring.loads.find((one) => one.device === device)!;
    const at = (node: string) => solved.get(`v(${this.#node(node)})`) ?? Number.NaN;
    return at(positive) - at(negative);
  }

  /** Board and rails are one node each; an old run brings the adapter's current from its far end. */
  #source(board: Board, lead: string | null, { supply }: Drawn): void {
    const { aux, battery, own } = board;
    const onMains = supply === 'mains' || battery === null;
    const volts = onMains
      ? aux.mainsVolts * (1 - aux.mainsTolerance)
      : battery.cutOffVolts - aux.dropFromBatteryVolts;
    const isLed = lead !== null && supply === 'mains';
    const ends = this.#plan.wiring.conductors.filter((one) => one.cable === lead);
    const [plus, minus] = isLed
      ? [this.#node(ends[0]!.far), this.#node(ends[1]!.far)]
      : [this.#node('plus'), this.#node('minus')];
    const p = this.#prefix;
    this.elements.push(`v${p}s ${plus} ${minus} ${volts}`, `r${p}g ${minus} 0 1e-6`);
    if (!isLed) return;
    const charge = battery?.chargeAmps ?? 0;
    this.elements.push(
      `v${p}a ${this.#node(`adapter:${board.id}/1`)} ${this.#node('plus')} 0`,
      `v${p}b ${this.#node(`adapter:${board.id}/2`)} ${this.#node('minus')} 0`,
      `i${p}o ${this.#node('plus')} ${this.#node('minus')} ${own.standbyAmps + charge}`,
    );
  }

  #loads(board: Board) {
    const { survey, wiring, supply } = this.#plan;
    const fed = supply.find((one) => one.board === board.id)!;
    const postsOf = (device: string) => wiring.loads.find((one) => one.device === device)!;
    const detectors = fed.devices.map(({ id }) => {
      const draws = survey.detectors.find((one) => one.id === id)!.supply;
      if (draws === null || draws === 'from-loop') throw new Error(`${id} draws nothing`);
      return { ...postsOf(id), amps: Math.max(draws.standbyAmps, draws.alarmAmps) };
    });
    const sounders = fed.sounders.flatMap(({ id }) => {
      const { currentAmps, strobeAmps, cable } = survey.sounders.find((one) => one.id === id)!;
      const strobe = wiring.conductors.find((one) => one.cable === cable && one.use === 'strobe');
      const own = (currentAmps ?? 0) + (strobe ? 0 : (strobeAmps ?? 0));
      const posts = postsOf(id);
      return [
        { ...posts, amps: own },
        ...(strobe ? [{ ...posts, positive: strobe.far, amps: strobeAmps ?? 0 }] : []),
      ];
    });
    return [...detectors, ...sounders];
  }

  #node(name: string): string {
    const known = this.#names.get(name);
    if (known) return known;
    const fresh = `${this.#prefix}n${this.#names.size}`;
    this.#names.set(name, fresh);
    // A node that hangs in the air needs a path for the solver; none for what is measured.
    this.elements.push(`r${fresh} ${fresh} 0 1e13`);
    return fresh;
  }
}

/** Every positive rail of a board is one node while it is fed, and so is every negative one. */
function railOf({ id, aux, sounder }: Board, terminal: string): string {
  if (terminal === aux.positive || terminal === sounder?.positive) return 'plus';
  if (terminal === aux.negative || terminal === sounder?.negative) return 'minus';
  return `${id}:${terminal}`;
}
