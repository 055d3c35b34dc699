import type { Drawing, Fields } from './drawing.ts';
import type { Device, Ends, Loop, Place, Sense, Style } from './loop.ts';
import { DrawnRuns } from './runs.ts';

const VALUES: Record<string, number> = {
  '1k': 1000,
  '2k2': 2200,
  '3k3': 3300,
  '4k7': 4700,
  '5k6': 5600,
  '10k': 10_000,
};
const BRIDGES: Record<string, number> = { '1k': 1000, '2k2': 2200, '4k7': 4700, '8k2': 8200, '12k': 12_000 };
const CLOSED = ['door-contact', 'window-contact', 'shutter-contact', 'vibration'];
const OPEN = ['flood', 'temperature', 'technical'];

/** Draws the zones: where each pair runs, what it meets out there, and what sits at its ends. */
export class DrawnLoops {
  readonly #drawing: Drawing;
  readonly #runs: DrawnRuns;
  #devices = 0;
  #last: { readonly second: string; readonly zone: string } | null = null;
  constructor(drawing: Drawing) {
    this.#drawing = drawing;
    this.#runs = new DrawnRuns(drawing);
  }

  add(lifeSafety: boolean): void {
    const drawing = this.#drawing;
    const zone = `z${drawing.zones.length + 1}`;
    const count = lifeSafety ? 1 : drawing.chance.pick([1, 1, 1, 2, 2, 3]);
    const style = lifeSafety ? 'across' : this.#style(count);
    const isOpen = style === 'across' || ((style === 'plain' || style === 'two-resistor') && drawing.is(0.3));
    const devices = Array.from({ length: count }, (_, index) =>
      this.#device(
        style === 'mixed'
          ? index % 2 === 0
            ? 'normally-closed'
            : 'normally-open'
          : isOpen
            ? 'normally-open'
            : 'normally-closed',
        lifeSafety,
      ),
    );
    const first = drawing.screw('zone');
    const shares = this.#last !== null && drawing.is(0.5);
    const second = shares ? this.#last!.second : drawing.screw('common');
    const [loop, paper, place] = this.#loop(zone, style, devices);
    const screws = { out: `old:${first}`, back: `old:${second}` };
    const ends = this.#atPanel(loop, devices, screws, place);
    const way =
      style === 'mixed' || count === 1
        ? 'home'
        : drawing.chance.pick(['home', 'home', 'chain', 'star', 'same', 'trunk']);
    const joined = this.#runs.run(way, loop, devices, ends, screws);
    const fields: Fields = {
      id: zone,
      name: `Zone ${zone.slice(1)}`,
      terminals: [first, second],
      loop: paper,
    };
    if (count > 1) fields.joined = joined;
    fields.detectors = devices.map(({ id }) => id);
    drawing.zones.push(fields);
    drawing.detectors.push(...devices.map((device) => device.fields));
    this.#last = { second, zone };
  }

  #style(count: number): Style {
    const { chance } = this.#drawing;
    if (count > 1 && this.#drawing.is(0.12)) return 'mixed';
    return chance.pick<Style>(['series', 'series', 'plain', 'plain', 'across', 'two-resistor', 'bridged']);
  }

  #device(sense: Sense, lifeSafety: boolean): Device {
    const drawing = this.#drawing;
    this.#devices += 1;
    const id = `d${this.#devices}`;
    const powered = lifeSafety || (sense === 'normally-closed' && drawing.is(0.35));
    const kind = lifeSafety
      ? 'smoke'
      : drawing.chance.pick(
          powered ? ['movement', 'glass-break'] : sense === 'normally-closed' ? CLOSED : OPEN,
        );
    const place = drawing.chance.pick(['entry', 'perimeter', 'interior']);
    const fields: Fields = { id, name: `Detector ${this.#devices}`, kind, contact: sense, place };
    if (powered) {
      const amps = drawing.from(6, 20);
      fields.supply = {
        standby: `${amps} mA`,
        alarm: `${amps + drawing.from(0, 15)} mA`,
        minimum: '9 V',
        maximum: '16 V',
      };
      fields.unpowered = sense === 'normally-closed' ? 'open' : 'closed';
      if (lifeSafety) fields.unpowered = 'open';
    }
    return { id, sense, powered, fields };
  }

  /** What is in the loop beside its contacts, how that is written down, and where its end resistor sits. */
  #loop(zone: string, style: Style, devices: readonly Device[]): [Loop, Fields, Place] {
    const drawing = this.#drawing;
    const isAcross = (device: Device) =>
      style === 'across' || (device.sense === 'normally-open' && style !== 'series' && style !== 'bridged');
    const hasEnd = style !== 'plain' && (style !== 'bridged' || drawing.is(0.5));
    const [text, ohms] = drawing.chance.pick(Object.entries(VALUES));
    const [alarmText, alarmOhms] = drawing.chance.pick(Object.entries(VALUES));
    const able = devices.filter((device) => style !== 'mixed' || device.sense === 'normally-closed');
    const last = able.at(-1)!;
    const kind = hasEnd
      ? drawing.chance.pick<Place['kind']>(['panel', 'panel', 'part', 'jumper', 'field'])
      : 'none';
    const place: Place = { kind, ohms };
    const atDetector = kind === 'part' || kind === 'jumper' || kind === 'field';
    const host = kind === 'field' ? last : drawing.chance.pick(able);
    const bridges = Object.fromEntries(
      devices.map(({ id }, index) => [id, Object.values(BRIDGES)[index % 5]!]),
    );
    const paper: Fields = { style };
    if (style === 'bridged')
      paper.bridges = Object.fromEntries(
        devices.map(({ id }, index) => [id, Object.keys(BRIDGES)[index % 5]!]),
      );
    if (hasEnd) {
      paper.resistor = drawing.unknown(0.05) ? 'unknown' : text;
      if (style === 'two-resistor') paper.alarmResistor = alarmText;
      const told =
        kind === 'panel'
          ? 'panel'
          : kind === 'field'
            ? { detector: host.id, by: 'part' }
            : { detector: host.id, by: kind };
      paper.resistorAt = drawing.unknown(0.05) ? 'unknown' : told;
    }
    const end = atDetector
      ? { at: host.id, by: kind === 'jumper' ? ('jumper' as const) : ('part' as const), ohms }
      : null;
    return [{ zone, style, isAcross, end, alarmOhms, bridges }, paper, place];
  }

  /** A resistor in the panel is spliced to the first wire, or, where contacts lie across the loop, sits on both screws. */
  #atPanel({ zone, isAcross }: Loop, devices: readonly Device[], screws: Ends, { kind, ohms }: Place): Ends {
    if (kind !== 'panel') return screws;
    const drawing = this.#drawing;
    const isOnBoth = devices.every(isAcross);
    const b = isOnBoth ? screws.back : drawing.splice();
    const stands = isOnBoth ? 'across' : 'series';
    drawing.resistor(
      `${zone}.end-of-line`,
      { zone, a: screws.out, b, stands, place: 'panel', by: 'part' },
      ohms,
    );
    return isOnBoth ? screws : { out: b, back: screws.back };
  }
}
