import type {
  Building,
  Contact,
  Load,
  Resistor,
  Sounder,
  Source,
  Wire,
} from '../../../source/rehearsal/building/building.ts';
import { type Random, seededRandom } from '../../../source/rehearsal/building/random.ts';
import type { Written } from '../../../source/site/document.ts';

export type Fields = Record<string, Written>;
/** A core as it is written down; where it truly ends stands in the drawing. */
export type Core = { colour: string; use: string; for?: string; at?: string };
type Cable = { readonly fields: Fields; readonly cores: Core[]; readonly ohms: number };

const COLOURS = ['red', 'black', 'yellow', 'blue', 'green', 'white', 'orange', 'brown', 'grey', 'violet'];
/** Copper at 20 °C, Ω·mm²/m: IEC 60028, from memory. */
const COPPER = 0.017241;
/** Sizes as people write them, with mm²; AWG by its definition, 0.127 mm × 92^((36 − n)/39) across (ASTM B258). */
const awg = (size: number) => Math.PI * (0.0635 * 92 ** ((36 - size) / 39)) ** 2;
const SIZES: readonly (readonly [string, number])[] = [
  ['22 AWG', awg(22)],
  ['24 AWG', awg(24)],
  ['18 AWG', awg(18)],
  ['0.22 mm2', 0.22],
  ['0.5 mm2', 0.5],
];
/** A 5 % part is within it. */
const PART = 0.045;

export type DrawnOptions = {
  /** Things that nobody knows, written down as such. */
  readonly unknowns: boolean;
};

/**
 * A building as it is drawn: every wire with both ends, every part with both legs. What is written down of it is kept
 * beside, and never read back.
 */
export class Drawing {
  readonly chance: Random;
  readonly options: DrawnOptions;
  readonly wires = new Map<string, Wire>();
  readonly resistors = new Map<string, Resistor>();
  readonly contacts: Contact[] = [];
  readonly loads: Load[] = [];
  readonly sources: Source[] = [];
  readonly sounders: Sounder[] = [];
  readonly bridges = new Map<string, { id: string; a: string; b: string; ohms: number }>();
  readonly cables = new Map<string, Cable>();
  readonly screws: { number: string; role: string }[] = [];
  readonly zones: Fields[] = [];
  readonly tampers: Fields[] = [];
  readonly detectors: Fields[] = [];
  #splices = 0;

  constructor(seed: number, options: DrawnOptions) {
    this.chance = seededRandom(seed, 'drawn');
    this.options = options;
  }

  is(share: number): boolean {
    return this.chance.next() < share;
  }

  from(low: number, high: number): number {
    return low + Math.floor(this.chance.next() * (high - low + 1));
  }

  /** By chance something that nobody knows. */
  unknown(share: number): boolean {
    return this.is(share) && this.options.unknowns;
  }

  screw(role: string): string {
    const number = `${this.screws.length + 1}`;
    this.screws.push({ number, role });
    return number;
  }

  /** The screw of a role, made where there is none yet. */
  theScrew(role: string, nth = 0): string {
    for (;;) {
      const found = this.screws.filter((one) => one.role === role)[nth];
      if (found !== undefined) return `old:${found.number}`;
      this.screw(role);
    }
  }

  splice(): string {
    this.#splices += 1;
    return `splice ${this.#splices}`;
  }

  /** A cable of some length; what the paper says of it is near enough for how it was found. */
  cable(from: string | null): string {
    const id = `c${this.cables.size + 1}`;
    const [size, area] = this.chance.pick(SIZES);
    const metres = this.chance.between(3, 40);
    const measured = this.is(0.2);
    const off = this.chance.between(-1, 1) * (measured ? 0.03 : 0.2);
    const stated = Math.max(2, Math.round(metres / (1 + off)));
    const isUnknown = !measured && metres > 12 && this.unknown(0.1);
    const fields: Fields = { id, length: isUnknown ? 'unknown' : `${stated} m`, conductor: size };
    if (measured) fields.measured = 'yes';
    if (from !== null) fields.from = from;
    // Half a metre of rounding on a short run is more than its tolerance.
    const honest = isUnknown ? Math.min(metres, 30) : stated * (1 + off);
    const ohms = honest * (COPPER / area) * this.chance.between(1, 1.02);
    this.cables.set(id, { fields, cores: [], ohms });
    return id;
  }

  /** One core of a cable, from where its end towards the panel is to its far end. */
  core(
    cable: string,
    use: string,
    near: string | null,
    far: string | null,
    paper: Partial<Core> = {},
  ): string {
    const { cores, ohms } = this.cables.get(cable)!;
    const id = `${cable}/${cores.length + 1}`;
    cores.push({ colour: COLOURS[cores.length % COLOURS.length]!, use, ...paper });
    const wire = { id, cable, near: near ?? `end:${id}`, far: far ?? `end:${id}.far`, ohms, broken: false };
    this.wires.set(id, wire);
    return id;
  }

  /** What the paper says besides of a core that is there already. */
  note(wire: string, paper: Partial<Core>): void {
    const [cable = '', number = ''] = wire.split('/');
    Object.assign(this.cables.get(cable)!.cores[Number(number) - 1]!, paper);
  }

  resistor(id: string, part: Omit<Resistor, 'id' | 'ohms'>, stated: number): void {
    const ohms = stated * this.chance.between(1 - PART, 1 + PART);
    this.resistors.set(id, { ...part, id, ohms });
  }

  link(a: string, b: string, ohms: number, owner = 'panel'): void {
    const id = `${owner}:${a}-${b}`;
    this.bridges.set(id, { id, a, b, ohms });
  }

  cableFields(): Written {
    return [...this.cables.values()].map(({ fields, cores }) => ({ ...fields, cores }));
  }
}

export type Drawn = {
  readonly building: Building;
  readonly text: string;
  readonly boards: readonly string[];
};
