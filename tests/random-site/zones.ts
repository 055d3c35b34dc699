import type { Written } from '../../source/site/document.ts';
import type { Device, Fields, Making, Zone } from './making.ts';
import { RandomWiring } from './wiring.ts';

const CLOSED_KINDS = [
  'door-contact',
  'window-contact',
  'shutter-contact',
  'vibration',
  'keyswitch',
  'receiver-channel',
];
export const OPEN_KINDS = ['flood', 'temperature', 'technical', 'panic', 'shunt-lock'];
const POWERED_KINDS = ['movement', 'glass-break'];
const LIFE_SAFETY_KINDS = ['smoke', 'heat', 'carbon-monoxide', 'gas', 'medical', 'sprinkler', 'unknown'];
const RESISTORS = ['1k', '2k2', '3.3 kohm', '4K7', '5600 ohm', '8k2', '10k'];

/** The zones with their detectors, loops and cables. */
export class RandomZones {
  readonly #making: Making;
  readonly #wiring: RandomWiring;
  #device = 0;
  constructor(making: Making) {
    this.#making = making;
    this.#wiring = new RandomWiring(making);
  }

  add(index: number, size: number, lifeSafety: boolean): void {
    const chance = this.#making.chance;
    const styles = ['series', 'series', 'series', 'plain', 'plain', 'across', 'two-resistor', 'bridged'];
    const style = size > 1 && chance.is(0.1) ? 'mixed' : lifeSafety ? 'across' : chance.pick(...styles);
    const isOpen = style === 'across' || (chance.is(0.3) && (style === 'two-resistor' || style === 'plain'));
    const contacts = Array.from({ length: size }, (_, at): Device['contact'] => {
      if (style === 'mixed') return at % 2 === 0 ? 'normally-closed' : 'normally-open';
      return isOpen ? 'normally-open' : 'normally-closed';
    });
    const devices = contacts.map((contact) => this.#newDevice(contact, lifeSafety));
    const joined = this.#wiring.wire(devices, style);
    const previous = this.#making.zones.at(-1)?.fields.terminals as string[] | undefined;
    const first = this.#making.newScrew('zone');
    const second = previous !== undefined && chance.is(0.5) ? previous[1]! : this.#making.newScrew('common');
    const fields: Fields = { id: `z${index + 1}`, name: `Zone ${index + 1}`, terminals: [first, second] };
    fields.loop = this.#loop(style, devices);
    if (size > 1 && chance.is(0.7)) fields.joined = joined;
    fields.detectors = devices.map((device) => device.id);
    const zone = { fields, devices, style };
    this.#making.zones.push(zone);
    this.#nameEnds(zone);
  }

  #newDevice(contact: Device['contact'], lifeSafety: boolean): Device {
    const chance = this.#making.chance;
    this.#device += 1;
    const isClosed = contact === 'normally-closed';
    const powered = lifeSafety ? chance.is(0.7) : isClosed && chance.is(0.35);
    const kind = lifeSafety
      ? chance.pick(...LIFE_SAFETY_KINDS)
      : chance.pick(...(powered ? POWERED_KINDS : isClosed ? CLOSED_KINDS : OPEN_KINDS));
    const id = `d${this.#device}`;
    const fields: Fields = { id, name: `Detector ${this.#device}`, kind };
    if (!this.#making.unknown(0.05)) fields.contact = chance.is(0.1) ? 'changeover' : contact;
    fields.place = chance.pick('entry', 'perimeter', 'interior', 'outside');
    if (chance.is(0.4)) fields.importance = String(chance.from(0, 5));
    if (chance.is(0.05)) fields.pulse = chance.pick('50 ms', '2 s', 'needs-analyser', 'unknown');
    if (powered && !this.#making.unknown(0.1)) {
      const standby = chance.from(4, 20);
      fields.supply = {
        standby: `${standby} mA`,
        ...(this.#making.unknown(0.1) ? {} : { alarm: `${standby + chance.from(0, 20)} mA` }),
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

  #loop(style: string, devices: readonly Device[]): Written {
    const chance = this.#making.chance;
    const loop: Fields = { style };
    if (style === 'bridged') {
      const values = ['1k', '2k2', '3k3', '4k7', '5k6', '6k8', '8k2', '10k', '12k', '15k'];
      const pairs = devices.map((device, index) => [device.id, values[index % values.length]!] as const);
      loop.bridges = Object.fromEntries(pairs);
    }
    if (style === 'plain' || (style === 'bridged' && chance.is(0.4))) return loop;
    loop.resistor = this.#making.unknown(0.05) ? 'unknown' : chance.pick(...RESISTORS);
    if (style === 'two-resistor' && !this.#making.unknown(0.05))
      loop.alarmResistor = chance.pick(...RESISTORS);
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
    if (!this.#making.unknown(0.1)) loop.resistorAt = chance.pick(...places);
    return loop;
  }

  /** Sometimes the surveyor noted on which screw an end core sits, and sometimes the core is the other one. */
  #nameEnds({ fields, devices, style }: Zone): void {
    const [first, second] = fields.terminals as [string, string];
    if (
      !this.#making.chance.is(0.3) ||
      devices.some((device) => device.cable.from !== undefined) ||
      style === 'mixed'
    )
      return;
    const inSeries = devices[0]!.contact === 'normally-closed';
    const start = devices[0]!.cable.cores.filter(
      (core) => core.use === 'loop' && (core.for ?? devices[0]!.id) === devices[0]!.id,
    );
    const isAlone = devices.length === 1 || devices.every((device) => device.cable === devices[0]!.cable);
    const isTurned = (isAlone || !inSeries) && this.#making.chance.is(0.4);
    if (start.length >= 2) start[0]!.at = isTurned ? second : first;
  }

  /** Two lone contacts of neighbouring zones with a screw in common may come over one cable with one return. */
  shareReturn(): void {
    for (let index = 1; index < this.#making.zones.length; index += 1) {
      const zones = [this.#making.zones[index - 1]!, this.#making.zones[index]!] as const;
      const [a, b] = zones.map((zone) => zone.devices[0]!) as [Device, Device];
      const [, end] = zones[0].fields.terminals as string[];
      const isShared = (zones[1].fields.terminals as string[])[1] === end;
      const able = zones.every(
        (zone) => zone.devices.length === 1 && zone.devices[0]!.cable.cores.length === 2,
      );
      if (!isShared || !able || !this.#making.chance.is(0.4)) continue;
      const cores = [
        { colour: '', use: 'loop', for: a.id },
        { colour: '', use: 'loop', for: b.id },
        { colour: '', use: 'common' },
      ];
      a.cable.cores.splice(0, 2, ...cores);
      this.#making.cables.splice(this.#making.cables.indexOf(b.cable), 1);
      b.cable = a.cable;
      return;
    }
  }
}
