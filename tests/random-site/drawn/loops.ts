import type { Core, Drawing, Fields } from './drawing.ts';

type Sense = 'normally-closed' | 'normally-open';
type Style = 'plain' | 'series' | 'across' | 'mixed' | 'two-resistor' | 'bridged';
type Device = {
  readonly id: string;
  readonly sense: Sense;
  readonly powered: boolean;
  readonly fields: Fields;
};
type Loop = {
  readonly zone: string;
  readonly style: Style;
  readonly isAcross: (device: Device) => boolean;
  /** The device that has the loop's resistor, how it is set there, and Ω. */
  readonly end: { readonly at: string; readonly by: 'part' | 'jumper'; readonly ohms: number } | null;
  readonly alarmOhms: number;
  readonly bridges: Record<string, number>;
};
/** Two bare ends between which more of a loop goes: out and back. */
type Ends = { readonly out: string; readonly back: string };
type Feed = { readonly positive: string; readonly negative: string } | null;

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
  #devices = 0;
  #last: { readonly second: string; readonly zone: string } | null = null;
  constructor(drawing: Drawing) {
    this.#drawing = drawing;
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
    const joined = this.#run(way, loop, devices, ends, screws);
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

  /** Where the cables run; answers how the paper says that detectors are joined. */
  #run(way: string, loop: Loop, devices: readonly Device[], ends: Ends, screws: Ends): Fields[string] {
    switch (way) {
      case 'home':
        this.#homeRuns(loop, devices, ends, screws);
        return 'panel';
      case 'trunk':
        this.#trunk(loop, devices, ends);
        return 'panel';
      default:
        this.#fieldRun(way, loop, devices, ends);
        return this.#drawing.is(0.5) ? 'field' : [devices.map(({ id }) => id)];
    }
  }

  /** A cable from each detector: in the row they are spliced at the panel, across the loop they share its screws. */
  #homeRuns(loop: Loop, devices: readonly Device[], ends: Ends, screws: Ends): void {
    const inRow = devices.filter((device) => !loop.isAcross(device));
    let here = ends.out;
    for (const device of devices) {
      const isIn = inRow.includes(device);
      const there = isIn && device !== inRow.at(-1) ? this.#drawing.splice() : ends.back;
      const cable = this.#drawing.cable(null);
      const isAlone = devices.length === 1;
      // Alone, or across, either core may be on either screw: then the paper says which.
      const turned = (isAlone || !isIn) && this.#drawing.is(0.25);
      const own = isIn ? { out: here, back: there } : screws;
      this.#pairTo(
        cable,
        loop,
        device,
        turned ? { out: own.back, back: own.out } : own,
        turned ? screws : null,
      );
      this.#supply(cable, this.#panelFeed(), [device], true);
      this.#extras(cable);
      device.fields.cable = cable;
      if (isIn) here = there;
    }
  }

  #pairTo(cable: string, loop: Loop, device: Device, { out, back }: Ends, turned: Ends | null): void {
    const drawing = this.#drawing;
    const [a, b] = [`${device.id} in`, `${device.id} out`];
    const at = turned === null ? {} : { at: turned.back.slice('old:'.length) };
    drawing.core(cable, 'loop', out, a, at);
    const second = drawing.core(cable, 'loop', back, b);
    // From the loop's first screw on: nothing on paper tells on which side of a contact its resistor sits.
    if (turned === null) this.#contact(loop, device, a, b);
    else this.#contact(loop, device, b, a);
    if (drawing.is(0.12)) this.#double(cable, second);
  }

  /** A spare core twisted at both ends to the one before it. */
  #double(cable: string, beside: string): void {
    const { near, far } = this.#drawing.wires.get(beside)!;
    this.#drawing.core(cable, 'doubled', near, far);
  }

  /** A thick cable with a pair for each detector; those that are not at its end have a cable of their own from there. */
  #trunk(loop: Loop, devices: readonly Device[], ends: Ends): void {
    const drawing = this.#drawing;
    const trunk = drawing.cable(null);
    const across = devices.every(loop.isAcross);
    const isFed = devices.some(({ powered }) => powered);
    let here = ends.out;
    const pairs = devices.map((device, index) => {
      const there = across || index === devices.length - 1 ? ends.back : drawing.splice();
      const [a, b] =
        index === 0 ? [`${device.id} in`, `${device.id} out`] : [drawing.splice(), drawing.splice()];
      drawing.core(trunk, 'loop', here, a, { for: device.id });
      drawing.core(trunk, 'loop', there, b, { for: device.id });
      if (!across) here = there;
      return { device, a, b };
    });
    const feed = isFed ? this.#supply(trunk, this.#panelFeed(), devices.slice(0, 1), false, true) : null;
    for (const [index, { device, a, b }] of pairs.entries()) {
      if (index === 0) {
        this.#contact(loop, device, a, b);
        device.fields.cable = trunk;
        continue;
      }
      const own = drawing.cable(trunk);
      const [c, d] = [`${device.id} in`, `${device.id} out`];
      drawing.core(own, 'loop', a, c);
      drawing.core(own, 'loop', b, d);
      this.#contact(loop, device, c, d);
      this.#supply(own, feed, [device], true);
      device.fields.cable = own;
    }
  }

  /** Only one cable comes back: the others go on from its far end, from one another, or sit beside one another there. */
  #fieldRun(way: string, loop: Loop, devices: readonly Device[], ends: Ends): void {
    const drawing = this.#drawing;
    const across = devices.every(loop.isAcross);
    const root = drawing.cable(null);
    const [first] = devices;
    const terminal = (device: Device) => ({ a: `${device.id} in`, b: `${device.id} out` });
    const start = terminal(first!).a;
    const isFed = devices.some(({ powered }) => powered);
    if (way === 'same') {
      const end = terminal(devices.at(-1)!).b;
      const [out, back] = across ? [start, terminal(first!).b] : [start, end];
      drawing.core(root, 'loop', ends.out, out);
      drawing.core(root, 'loop', ends.back, back);
      let here = start;
      for (const device of devices) {
        const b = across ? terminal(first!).b : terminal(device).b;
        this.#contact(loop, device, here, b);
        if (!across) here = b;
        device.fields.cable = root;
      }
      if (isFed)
        this.#supply(
          root,
          this.#panelFeed(),
          devices.filter(({ powered }) => powered),
          false,
          true,
        );
      this.#extras(root);
      return;
    }
    const returns = across ? terminal(first!).b : drawing.splice();
    drawing.core(root, 'loop', ends.out, start);
    drawing.core(root, 'loop', ends.back, returns);
    this.#contact(loop, first!, start, terminal(first!).b);
    first!.fields.cable = root;
    let feed = isFed ? this.#supply(root, this.#panelFeed(), [first!], false, true) : null;
    this.#extras(root);
    let here = across ? start : terminal(first!).b;
    let [before, back] = [root, returns];
    for (const [index, device] of devices.entries()) {
      if (index === 0) continue;
      const isLast = index === devices.length - 1;
      const own = drawing.cable(way === 'chain' ? before : root);
      const { a, b } = terminal(device);
      drawing.core(own, 'loop', here, a);
      if (across) {
        drawing.core(own, 'loop', back, b);
        this.#contact(loop, device, a, b);
        if (way === 'chain') [here, back] = [a, b];
      } else if (way === 'chain') {
        const far = isLast ? b : drawing.splice();
        drawing.core(own, 'loop', back, far);
        this.#contact(loop, device, a, b);
        [here, back] = [b, far];
      } else {
        // Out and back between two places at the first detector; the last one comes back to where the root goes home.
        const there = isLast ? back : drawing.splice();
        drawing.core(own, 'loop', there, b);
        this.#contact(loop, device, a, b);
        here = there;
      }
      const goesOn = way === 'chain' && devices.slice(index).some(({ powered }) => powered);
      if (device.powered || goesOn) {
        const onward = this.#supply(own, feed, [device], false, true);
        if (way === 'chain') feed = onward;
      }
      device.fields.cable = own;
      before = own;
    }
  }

  /** A detector between its two terminals: what is in its housing, from the one to the other. */
  #contact(
    { zone, end, isAcross, style, alarmOhms, bridges }: Loop,
    device: Device,
    a: string,
    b: string,
  ): void {
    const drawing = this.#drawing;
    const { id, sense, powered } = device;
    const across = isAcross(device);
    let here = a;
    if (end?.at === id) {
      const inside = across ? b : `${id} resistor`;
      drawing.resistor(
        `${zone}.end-of-line`,
        { zone, a, b: inside, stands: across ? 'across' : 'series', place: 'detector', by: end.by },
        end.ohms,
      );
      if (!across) here = inside;
    }
    if (powered && sense === 'normally-closed' && drawing.is(0.15)) {
      device.fields.tamper = 'in-loop';
      const cover = `${id} cover`;
      drawing.contacts.push({
        detector: id,
        purpose: 'tamper',
        sense: 'normally-closed',
        a: here,
        b: cover,
        closedOhms: 0.1,
        unpowered: null,
        stuck: null,
      });
      here = cover;
    }
    const own =
      style === 'two-resistor' ? ['alarm', alarmOhms] : style === 'bridged' ? ['bridge', bridges[id]!] : null;
    const leave = own !== null && across ? `${id} contact` : b;
    drawing.contacts.push({
      detector: id,
      purpose: 'alarm',
      sense,
      a: here,
      b: leave,
      closedOhms: powered ? drawing.chance.between(0.5, 12) : drawing.chance.between(0.05, 0.5),
      unpowered: powered ? (device.fields.unpowered as 'open' | 'closed') : null,
      stuck: null,
    });
    if (own === null) return;
    const [role, ohms] = own as [string, number];
    drawing.resistor(
      `${zone}.${role}.${id}`,
      {
        zone,
        a: across ? leave : here,
        b,
        stands: across ? 'series' : 'across',
        place: 'detector',
        by: 'part',
      },
      ohms,
    );
  }

  #panelFeed(): Feed {
    return {
      positive: this.#drawing.theScrew('aux-positive'),
      negative: this.#drawing.theScrew('aux-negative'),
    };
  }

  /** The supply pair of a cable to its devices, or on from there; answers where it goes on. */
  #supply(
    cable: string,
    feed: Feed,
    devices: readonly Device[],
    onlyIfPowered: boolean,
    always = false,
  ): Feed {
    const drawing = this.#drawing;
    const powered = devices.filter((device) => device.powered);
    if (feed === null || (powered.length === 0 && (onlyIfPowered || !always))) return null;
    const [first] = powered;
    const positive = first === undefined ? drawing.splice() : `${first.id} +`;
    const negative = first === undefined ? drawing.splice() : `${first.id} -`;
    drawing.core(cable, 'aux-positive', feed.positive, positive);
    drawing.core(cable, 'aux-negative', feed.negative, negative);
    for (const { id, fields } of powered) {
      const stated = fields.supply as Record<string, string>;
      const share = drawing.chance.between(0.85, 1);
      drawing.loads.push({
        device: id,
        positive,
        negative,
        standbyAmps: (Number.parseFloat(stated.standby!) / 1000) * share,
        alarmAmps: (Number.parseFloat(stated.alarm!) / 1000) * share,
        minimumVolts: 8,
        idleOhms: drawing.chance.between(60e3, 250e3),
      });
    }
    return { positive, negative };
  }

  #extras(cable: string): void {
    const drawing = this.#drawing;
    if (drawing.is(0.2)) for (const _ of [1, 2]) drawing.core(cable, 'spare', null, null);
    if (drawing.is(0.05)) drawing.core(cable, drawing.chance.pick(['screen', 'other', 'data']), null, null);
  }
}

type Place = { readonly kind: 'panel' | 'part' | 'jumper' | 'field' | 'none'; readonly ohms: number };

export type { Core };
