import type { Written } from '../source/site/document.ts';
import type { RandomSurveyOptions } from './random-survey.ts';

/** The seeded generator behind every random survey: mulberry32, public domain. */
export class Chance {
  #state: number;
  constructor(seed: number) {
    this.#state = (seed * 2654435761 + 0x9e3779b9) | 0;
  }
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }
  is(share: number): boolean {
    return this.next() < share;
  }
  from(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }
  pick<T>(...choices: readonly T[]): T {
    return choices[Math.floor(this.next() * choices.length)]!;
  }
}

type Core = { colour: string; use: string; for?: string; at?: string };
type Cable = { id: string; from?: string; cores: Core[] };
type Fields = Record<string, Written>;
type Device = {
  id: string;
  cable: Cable;
  contact: 'normally-closed' | 'normally-open';
  fields: Fields;
  powered: boolean;
};
type Zone = { fields: Fields; devices: Device[]; style: string };

const CLOSED_KINDS = [
  'door-contact',
  'window-contact',
  'shutter-contact',
  'vibration',
  'keyswitch',
  'receiver-channel',
];
const OPEN_KINDS = ['flood', 'temperature', 'technical', 'panic', 'shunt-lock'];
const POWERED_KINDS = ['movement', 'glass-break'];
const LIFE_SAFETY_KINDS = ['smoke', 'heat', 'carbon-monoxide', 'gas', 'medical', 'sprinkler', 'unknown'];
const FEEDS = [
  ...['plug-in-transformer', 'plug-in-transformer', 'plug-in-transformer', 'dc-adapter'],
  ...['hard-wired-transformer', 'mains-in-enclosure', 'unknown'],
];
const COLOURS = ['red', 'black', 'yellow', 'blue', 'green', 'white', 'orange', 'brown'];
const RESISTORS = ['1k', '2k2', '3.3 kohm', '4K7', '5600 ohm', '8k2', '10k'];

/** One site, made up from a seed. Fields are built in the order in which a survey is taken. */
export class RandomSite {
  readonly #chance: Chance;
  readonly #options: RandomSurveyOptions;
  readonly #cables: Cable[] = [];
  readonly #zones: Zone[] = [];
  readonly #tampers: Fields[] = [];
  readonly #sounders: Fields[] = [];
  readonly #keypads: Fields[] = [];
  readonly #supplies: Fields[] = [];
  readonly #outputs: Fields[] = [];
  readonly #roles = new Map<string, string>();
  #screw = 10;
  #device = 0;
  #cable = 0;
  #needsTerminals = false;

  constructor(seed: number, options: RandomSurveyOptions) {
    this.#chance = new Chance(seed);
    this.#options = options;
    const roles = ['ac', 'ac', 'sounder', 'sounder', 'aux-positive', 'aux-negative', 'earth'];
    for (const [index, role] of roles.entries()) this.#roles.set(String(index + 1), role);
  }

  fields(): Written {
    const chance = this.#chance;
    const zones = this.#options.zones ?? chance.from(1, 8);
    const extra = this.#options.detectors === undefined ? null : Math.max(0, this.#options.detectors - zones);
    const lifeSafety = this.#options.lifeSafety ?? chance.is(0.25);
    for (let index = 0; index < zones; index += 1) {
      const isLast = index === zones - 1;
      const more =
        extra === null
          ? chance.pick(0, 0, 0, 1, 1, 2, 3)
          : Math.floor((extra * (index + 1)) / zones) - Math.floor((extra * index) / zones);
      this.#addZone(index, more + 1, lifeSafety && isLast);
    }
    this.#shareReturn();
    if (this.#options.tampers ?? chance.is(0.25)) this.#addTamper();
    const sounders = chance.pick(0, 1, 1, 1, 2);
    for (let index = 0; index < sounders; index += 1) this.#addSounder(index);
    const keypads = chance.pick(0, 1, 1, 2);
    for (let index = 0; index < keypads; index += 1) this.#addKeypad(index);
    const signalling = chance.pick('none', 'telephone', 'telephone', 'network', 'radio', 'unknown');
    if (signalling === 'telephone') this.#addLine();
    return this.#survey(lifeSafety, signalling);
  }

  #addZone(index: number, size: number, lifeSafety: boolean): void {
    const chance = this.#chance;
    const styles = ['series', 'series', 'series', 'plain', 'plain', 'across', 'two-resistor', 'bridged'];
    const style = size > 1 && chance.is(0.1) ? 'mixed' : lifeSafety ? 'across' : chance.pick(...styles);
    const isOpen = style === 'across' || (chance.is(0.3) && (style === 'two-resistor' || style === 'plain'));
    const contacts = Array.from({ length: size }, (_, at): Device['contact'] => {
      if (style === 'mixed') return at % 2 === 0 ? 'normally-closed' : 'normally-open';
      return isOpen ? 'normally-open' : 'normally-closed';
    });
    const devices = contacts.map((contact) => this.#newDevice(contact, lifeSafety));
    const joined = this.#wire(devices, style);
    const previous = this.#zones.at(-1)?.fields.terminals as string[] | undefined;
    const first = this.#newScrew('zone');
    const second = previous !== undefined && chance.is(0.5) ? previous[1]! : this.#newScrew('common');
    const fields: Fields = { id: `z${index + 1}`, name: `Zone ${index + 1}`, terminals: [first, second] };
    fields.loop = this.#loop(style, devices);
    if (size > 1 && chance.is(0.7)) fields.joined = joined;
    fields.detectors = devices.map((device) => device.id);
    const zone = { fields, devices, style };
    this.#zones.push(zone);
    this.#nameEnds(zone);
  }

  #newDevice(contact: Device['contact'], lifeSafety: boolean): Device {
    const chance = this.#chance;
    this.#device += 1;
    const isClosed = contact === 'normally-closed';
    const powered = lifeSafety ? chance.is(0.7) : isClosed && chance.is(0.35);
    const kind = lifeSafety
      ? chance.pick(...LIFE_SAFETY_KINDS)
      : chance.pick(...(powered ? POWERED_KINDS : isClosed ? CLOSED_KINDS : OPEN_KINDS));
    const id = `d${this.#device}`;
    const fields: Fields = { id, name: `Detector ${this.#device}`, kind };
    if (!this.#unknown(0.05)) fields.contact = chance.is(0.1) ? 'changeover' : contact;
    fields.place = chance.pick('entry', 'perimeter', 'interior', 'outside');
    if (chance.is(0.4)) fields.importance = String(chance.from(0, 5));
    if (chance.is(0.05)) fields.pulse = chance.pick('50 ms', '2 s', 'needs-analyser', 'unknown');
    if (powered && !this.#unknown(0.1)) {
      const standby = chance.from(4, 20);
      fields.supply = {
        standby: `${standby} mA`,
        ...(this.#unknown(0.1) ? {} : { alarm: `${standby + chance.from(0, 20)} mA` }),
        minimum: chance.pick('8.5 V', '9 V', '9.5 V'),
        maximum: chance.pick('15 V', '16 V'),
        ...(chance.is(0.5) ? { warmUp: '3 min' } : {}),
      };
    }
    if (powered) fields.unpowered = chance.pick('open', 'open', 'closed', 'unknown');
    if (powered && chance.is(0.2)) fields.tamper = 'in-loop';
    if (chance.is(0.05)) fields.control = chance.pick('reset', 'set-line', 'unknown');
    if (!powered && chance.is(0.03)) fields.supply = 'from-loop';
    return { id, cable: { id: '', cores: [] }, contact, fields, powered };
  }

  /** Gives the detectors of a zone their cables, and answers how that joins them. */
  #wire(devices: readonly Device[], style: string): Written {
    const chance = this.#chance;
    for (const device of devices) {
      // Left out or changeover it follows its loop; where a loop takes both kinds it must be said.
      if (['plain', 'two-resistor', 'mixed'].includes(style)) device.fields.contact = device.contact;
      const isPlainClosed = device.contact === 'normally-closed' && style !== 'mixed';
      if (isPlainClosed && this.#unknown(0.02)) device.fields.contact = 'unknown';
    }
    const ways = devices.length === 1 ? ['home'] : ['home', 'home', 'chain', 'star', 'same', 'trunk', 'sets'];
    const way = style === 'mixed' ? 'home' : chance.pick(...ways);
    if (way === 'trunk') return this.#wireTrunk(devices);
    const sizes =
      way === 'home' ? devices.map(() => 1) : way === 'sets' ? setSizes(devices.length) : [devices.length];
    let at = 0;
    const sets = sizes.map((size) => {
      const set = devices.slice(at, at + size);
      at += size;
      this.#wireSet(set, way === 'sets' ? chance.pick('chain', 'same') : way);
      return set.map((device) => device.id);
    });
    if (way === 'home') return 'panel';
    return sets.length === 1 && chance.is(0.6) ? 'field' : sets.filter((set) => set.length > 1);
  }

  /** Detectors that come back over one pair: one after the other, all from the first, or on one cable. */
  #wireSet(set: readonly Device[], way: string): void {
    const anyPowered = set.some((device) => device.powered);
    set.forEach((device, index) => {
      if (index > 0 && way === 'same') {
        device.cable = set[0]!.cable;
        return;
      }
      const from = index === 0 ? undefined : (way === 'chain' ? set[index - 1] : set[0])!.cable.id;
      const isFed =
        way === 'same'
          ? anyPowered
          : set.slice(way === 'chain' || index === 0 ? index : 0).some((each) => each.powered);
      const own = index > 0 && way === 'star' ? device.powered : isFed;
      device.cable = this.#newCable(from, [
        { colour: '', use: 'loop' },
        { colour: '', use: 'loop' },
        ...(own
          ? [
              { colour: '', use: 'aux-positive' },
              { colour: '', use: 'aux-negative' },
            ]
          : []),
      ]);
      this.#addExtras(device.cable);
    });
  }

  /** A thick cable to the first detector with a pair for each; the others go on from its end. */
  #wireTrunk(devices: readonly Device[]): Written {
    const cores = devices.flatMap((device) => [
      { colour: '', use: 'loop', for: device.id },
      { colour: '', use: 'loop', for: device.id },
    ]);
    const isFed = devices.some((device) => device.powered);
    const aux = isFed
      ? [
          { colour: '', use: 'aux-positive' },
          { colour: '', use: 'aux-negative' },
        ]
      : [];
    const trunk = this.#newCable(undefined, [...cores, ...aux]);
    devices.forEach((device, index) => {
      if (index === 0) device.cable = trunk;
      else {
        const feed = device.powered
          ? [
              { colour: '', use: 'aux-positive' },
              { colour: '', use: 'aux-negative' },
            ]
          : [];
        device.cable = this.#newCable(trunk.id, [
          { colour: '', use: 'loop' },
          { colour: '', use: 'loop' },
          ...feed,
        ]);
      }
    });
    return 'panel';
  }

  #newCable(from: string | undefined, cores: Core[]): Cable {
    this.#cable += 1;
    const id = `c${this.#cable}`;
    const cable: Cable = { id, ...(from === undefined ? {} : { from }), cores };
    this.#cables.push(cable);
    return cable;
  }

  #addExtras({ cores }: Cable): void {
    const chance = this.#chance;
    if (chance.is(0.15)) cores.push({ colour: '', use: 'doubled' });
    if (chance.is(0.2)) cores.push({ colour: '', use: 'spare' }, { colour: '', use: 'spare' });
    if (chance.is(0.05)) cores.push({ colour: '', use: chance.pick('screen', 'other', 'data') });
  }

  #loop(style: string, devices: readonly Device[]): Written {
    const chance = this.#chance;
    const loop: Fields = { style };
    if (style === 'bridged') {
      const values = ['1k', '2k2', '3k3', '4k7', '5k6', '6k8', '8k2', '10k', '12k', '15k'];
      const pairs = devices.map((device, index) => [device.id, values[index % values.length]!] as const);
      loop.bridges = Object.fromEntries(pairs);
    }
    if (style === 'plain' || (style === 'bridged' && chance.is(0.4))) return loop;
    loop.resistor = this.#unknown(0.05) ? 'unknown' : chance.pick(...RESISTORS);
    if (style === 'two-resistor' && !this.#unknown(0.05)) loop.alarmResistor = chance.pick(...RESISTORS);
    const able = devices.filter((device) => style !== 'mixed' || device.contact === 'normally-closed');
    const far = chance.pick(...able).id;
    const by = chance.pick('jumper', 'part', 'unknown');
    const places: Written[] = [
      'panel',
      'panel',
      'panel',
      { detector: far, by },
      style === 'mixed' ? 'panel' : 'detector',
    ];
    if (!this.#unknown(0.1)) loop.resistorAt = chance.pick(...places);
    return loop;
  }

  /** Sometimes the surveyor noted on which screw an end core sits, and sometimes the core is the other one. */
  #nameEnds({ fields, devices, style }: Zone): void {
    const [first, second] = fields.terminals as [string, string];
    if (
      !this.#chance.is(0.3) ||
      devices.some((device) => device.cable.from !== undefined) ||
      style === 'mixed'
    )
      return;
    const inSeries = devices[0]!.contact === 'normally-closed';
    const start = devices[0]!.cable.cores.filter(
      (core) => core.use === 'loop' && (core.for ?? devices[0]!.id) === devices[0]!.id,
    );
    const isAlone = devices.length === 1 || devices.every((device) => device.cable === devices[0]!.cable);
    const isTurned = (isAlone || !inSeries) && this.#chance.is(0.4);
    if (start.length >= 2) start[0]!.at = isTurned ? second : first;
  }

  /** Two lone contacts of neighbouring zones with a screw in common may come over one cable with one return. */
  #shareReturn(): void {
    for (let index = 1; index < this.#zones.length; index += 1) {
      const zones = [this.#zones[index - 1]!, this.#zones[index]!] as const;
      const [a, b] = zones.map((zone) => zone.devices[0]!) as [Device, Device];
      const [, end] = zones[0].fields.terminals as string[];
      const isShared = (zones[1].fields.terminals as string[])[1] === end;
      const able = zones.every(
        (zone) => zone.devices.length === 1 && zone.devices[0]!.cable.cores.length === 2,
      );
      if (!isShared || !able || !this.#chance.is(0.4)) continue;
      const cores = [
        { colour: '', use: 'loop', for: a.id },
        { colour: '', use: 'loop', for: b.id },
        { colour: '', use: 'common' },
      ];
      a.cable.cores.splice(0, 2, ...cores);
      this.#cables.splice(this.#cables.indexOf(b.cable), 1);
      b.cable = a.cable;
      return;
    }
  }

  #addTamper(): void {
    const own = this.#zones
      .flatMap((zone) => zone.devices)
      .filter((device) => device.powered && device.fields.tamper === undefined && this.#isHomeRun(device))
      .slice(0, 3);
    for (const device of own) {
      device.fields.tamper = 'own';
      device.cable.cores.push({ colour: '', use: 'tamper' }, { colour: '', use: 'tamper' });
    }
    const through = [
      ...own.map((device) => device.id),
      ...(own.length === 0 || this.#chance.is(0.5) ? ['lid'] : []),
    ];
    const hasResistor = this.#chance.is(0.5);
    this.#tampers.push({
      id: 't1',
      terminals: [this.#newScrew('zone'), this.#newScrew('common')],
      through,
      loop: hasResistor ? { style: 'series', resistor: '2k2', resistorAt: 'panel' } : { style: 'plain' },
      keep: this.#chance.pick('yes', 'given-up'),
    });
  }

  #isHomeRun({ cable }: Device): boolean {
    const users = this.#zones.flatMap((zone) => zone.devices).filter((device) => device.cable === cable);
    return (
      cable.from === undefined && users.length === 1 && !this.#cables.some((other) => other.from === cable.id)
    );
  }

  #addSounder(index: number): void {
    const chance = this.#chance;
    const wiring = chance.pick('two-wire', 'two-wire', 'hold-off', 'unknown');
    const cores: Core[] = [
      { colour: '', use: 'sounder-positive' },
      { colour: '', use: 'sounder-negative' },
    ];
    if (wiring === 'hold-off') {
      cores.push({ colour: '', use: 'hold-off' });
      cores.push({ colour: '', use: 'trigger', at: this.#newScrew('output') });
      if (chance.is(0.5)) cores.push({ colour: '', use: 'strobe', at: this.#newScrew('output') });
      if (chance.is(0.4)) this.#addSounderTamper(`s${index + 1}`, cores);
    }
    const triggers = [
      'supply',
      'negative-applied',
      'negative-removed',
      'positive-applied',
      'positive-removed',
      'unknown',
    ];
    const cable = this.#newCable(undefined, cores);
    this.#sounders.push({
      id: `s${index + 1}`,
      cable: cable.id,
      current: this.#unknown(0.1)
        ? 'unknown'
        : `${chance.from(10, this.#options.fits === false ? 90 : 35) * 10} mA`,
      minimum: '9 V',
      wiring,
      ownBattery: wiring === 'hold-off' ? 'yes' : chance.pick('yes', 'no', 'unknown'),
      trigger: wiring === 'two-wire' ? 'supply' : chance.pick(...triggers),
      strobe: chance.is(0.3) ? { current: '120 mA' } : 'none',
      holdOff: wiring === 'hold-off' ? { current: '50 mA' } : 'none',
    });
  }

  /** The sounder's cover switch, back over its own negative. */
  #addSounderTamper(id: string, cores: Core[]): void {
    this.#needsTerminals = true;
    cores.push({ colour: '', use: 'tamper-return' });
    this.#tampers.push({
      id: `t${this.#tampers.length + 2}-${id}`,
      terminals: [this.#newScrew('zone'), '4'],
      through: [id],
      loop: { style: 'plain' },
      keep: this.#chance.pick('yes', 'given-up'),
    });
  }

  #addKeypad(index: number): void {
    const before = index > 0 && this.#chance.is(0.3) ? String(this.#keypads[index - 1]!.cable) : undefined;
    const cable = this.#newCable(
      before,
      ['aux-positive', 'aux-negative', 'keypad', 'keypad'].map((use) => ({ colour: '', use })),
    );
    if (index === 0) for (const _ of [1, 2]) this.#newScrew('keypad');
    const emergencyKeys = this.#chance.pick('none', 'none', 'none', 'fire', 'medical', 'panic', 'unknown');
    this.#keypads.push({ id: `k${index + 1}`, cable: cable.id, emergencyKeys });
  }

  #addLine(): void {
    this.#newCable(
      undefined,
      ['telephone', 'telephone'].map((use) => ({ colour: '', use })),
    );
    for (const _ of [1, 2]) this.#newScrew('telephone');
  }

  #survey(lifeSafety: boolean, signalling: string): Written {
    const chance = this.#chance;
    const devices = this.#zones.flatMap((zone) => zone.devices);
    this.#feedOneFromElsewhere(devices);
    if (chance.is(0.1)) {
      const voltage = chance.pick('extra-low', 'extra-low', 'mains', 'unknown');
      this.#outputs.push({
        terminals: [this.#newScrew('output'), this.#newScrew('output')],
        drives: 'yard light',
        voltage,
      });
    }
    const terminals = [...this.#roles].map(([number, role]) => ({ number, role }));
    const survey: Fields = {
      format: 'loopward/survey@1',
      site: { name: 'A made-up site', reference: 'R-1' },
      ...(chance.is(0.5)
        ? { conditions: { cableTemperature: `${chance.from(-5, 35)} °C`, batteryTemperature: '20 °C' } }
        : {}),
      outside: {
        feed: chance.pick(...FEEDS),
        signalling,
        monitored: chance.pick('yes', 'no', 'unknown'),
        set: 'unset',
        lifeSafety: lifeSafety ? 'present' : 'none',
        otherFeeds: this.#supplies.length > 0 ? 'present' : 'none',
        sounderBattery: chance.pick('yes', 'no', 'unknown'),
      },
      panel: {
        feedVoltage: '16.5 V',
        enclosure: chance.pick('metal', 'plastic', 'wood', 'unknown'),
        batteries: [{ capacity: '7 Ah', chemistry: 'sealed-lead-acid', installed: '2019' }],
        slack: `${chance.from(4, 30) * 10} mm`,
        ...(chance.is(0.85) || this.#needsTerminals ? { terminals } : {}),
      },
      ...(this.#supplies.length > 0 ? { supplies: this.#supplies } : {}),
      ...(this.#outputs.length > 0 ? { outputs: this.#outputs } : {}),
      network: { kind: 'wired', backup: chance.pick('none', 'unknown', '4 h') },
      zones: this.#zones.map((zone) => zone.fields),
      ...(this.#zones.length > 2 && chance.is(0.2) ? { mayShare: [['z1', 'z2']] } : {}),
      ...(this.#tampers.length > 0 ? { tampers: this.#tampers } : {}),
      detectors: devices.map(({ fields, cable }) => ({ ...fields, cable: cable.id })),
      cables: this.#cables.map((cable) => this.#cableFields(cable)),
      ...(this.#sounders.length > 0 ? { sounders: this.#sounders } : {}),
      ...(this.#keypads.length > 0 ? { keypads: this.#keypads } : {}),
      boards: this.#boards(),
    };
    return survey;
  }

  #feedOneFromElsewhere(devices: readonly Device[]): void {
    const device = devices.find((each) => each.powered && this.#isHomeRun(each));
    if (device === undefined || !this.#chance.is(0.15)) return;
    device.cable.cores = device.cable.cores.filter((core) => !core.use.startsWith('aux'));
    device.fields.supply ??= 'unknown';
    this.#supplies.push({ id: 'x1', place: 'loft', kind: 'adapter', battery: 'no', feeds: [device.id] });
  }

  #cableFields(cable: Cable): Written {
    const chance = this.#chance;
    const most = this.#options.fits === false ? 150 : 45;
    const length = chance.is(0.3) ? `${chance.from(10, most * 3)} ft` : `${chance.from(3, most)} m`;
    return {
      id: cable.id,
      length: this.#unknown(0.08) ? 'unknown' : length,
      ...(chance.is(0.2) ? { measured: 'yes' } : {}),
      conductor: this.#unknown(0.05)
        ? 'unknown'
        : chance.pick('22 AWG', '22 AWG', '24 AWG', '18 AWG', '0.22 mm2', '7/0.2', '0.5 mm2'),
      ...(cable.from === undefined ? {} : { from: cable.from }),
      cores: cable.cores.map((core, index) => ({ ...core, colour: COLOURS[index % COLOURS.length]! })),
    };
  }

  #boards(): Written {
    const sizes: Record<string, number> = { 'six-paired': 6, 'eight-paired': 8, 'twelve-supervised': 12 };
    const names = Object.keys(sizes);
    const need = this.#zones.reduce((sum, zone) => sum + inputsNeeded(zone), this.#tampers.length);
    const boards: Fields[] = [];
    let inputs = 0;
    do {
      const file = this.#chance.pick(...names);
      boards.push({ id: `b${boards.length + 1}`, file });
      inputs += sizes[file]!;
    } while (this.#options.fits !== false && inputs < need);
    return boards;
  }

  #newScrew(role: string): string {
    this.#screw += 1;
    this.#roles.set(String(this.#screw), role);
    return String(this.#screw);
  }

  #unknown(share: number): boolean {
    return this.#options.unknowns !== false && this.#chance.is(share);
  }
}

/** Sets of two where there are enough, the last one alone. */
function setSizes(count: number): number[] {
  const sizes: number[] = [];
  for (let left = count; left > 0; left -= 2) sizes.push(Math.min(2, left));
  return sizes;
}

/** Detectors that may share an input: not panic, and the round-the-clock kinds only with their own. */
function inputsNeeded({ devices }: Zone): number {
  const alone = new Set(OPEN_KINDS);
  alone.add('keyswitch');
  const shares = devices.map(({ contact, fields, id }) => {
    const kind = String(fields.kind);
    return kind === 'panic' ? id : `${contact} ${String(fields.contact)} ${alone.has(kind) ? kind : ''}`;
  });
  return new Set(shares).size;
}
