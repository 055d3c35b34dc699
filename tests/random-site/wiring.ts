import type { Written } from '../../source/site/document.ts';
import type { Cable, Device, Making } from './making.ts';

/** Gives the detectors of a zone their cables. */
export class RandomWiring {
  readonly #making: Making;
  constructor(making: Making) {
    this.#making = making;
  }

  /** Gives the detectors of a zone their cables, and answers how that joins them. */
  wire(devices: readonly Device[], style: string): Written {
    const chance = this.#making.chance;
    for (const device of devices) {
      // Left out or changeover it follows its loop; where a loop takes both kinds it must be said.
      if (['plain', 'two-resistor', 'mixed'].includes(style)) device.fields.contact = device.contact;
      const isPlainClosed = device.contact === 'normally-closed' && style !== 'mixed';
      if (isPlainClosed && this.#making.unknown(0.02)) device.fields.contact = 'unknown';
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
      device.cable = this.#making.newCable(from, [
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
    const trunk = this.#making.newCable(undefined, [...cores, ...aux]);
    devices.forEach((device, index) => {
      if (index === 0) device.cable = trunk;
      else {
        const feed = device.powered
          ? [
              { colour: '', use: 'aux-positive' },
              { colour: '', use: 'aux-negative' },
            ]
          : [];
        device.cable = this.#making.newCable(trunk.id, [
          { colour: '', use: 'loop' },
          { colour: '', use: 'loop' },
          ...feed,
        ]);
      }
    });
    return 'panel';
  }

  #addExtras({ cores }: Cable): void {
    const chance = this.#making.chance;
    if (chance.is(0.15)) cores.push({ colour: '', use: 'doubled' });
    if (chance.is(0.2)) cores.push({ colour: '', use: 'spare' }, { colour: '', use: 'spare' });
    if (chance.is(0.05)) cores.push({ colour: '', use: chance.pick('screen', 'other', 'data') });
  }
}

/** Sets of two where there are enough, the last one alone. */
function setSizes(count: number): number[] {
  const sizes: number[] = [];
  for (let left = count; left > 0; left -= 2) sizes.push(Math.min(2, left));
  return sizes;
}
