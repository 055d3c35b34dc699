import type { Drawing, Fields } from './drawing.ts';
import { drawHousing } from './housing.ts';
import type { Device, Ends, Feed, Loop } from './loop.ts';

/** Draws the cables of a loop: from the panel to its detectors, and on from there. */
export class DrawnRuns {
  readonly #drawing: Drawing;
  constructor(drawing: Drawing) {
    this.#drawing = drawing;
  }

  /** Where the cables run; answers how the paper says that detectors are joined. */
  run(way: string, loop: Loop, devices: readonly Device[], ends: Ends, screws: Ends): Fields[string] {
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
    if (turned === null) drawHousing(this.#drawing, loop, device, a, b);
    else drawHousing(this.#drawing, loop, device, b, a);
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
        drawHousing(this.#drawing, loop, device, a, b);
        device.fields.cable = trunk;
        continue;
      }
      const own = drawing.cable(trunk);
      const [c, d] = [`${device.id} in`, `${device.id} out`];
      drawing.core(own, 'loop', a, c);
      drawing.core(own, 'loop', b, d);
      drawHousing(this.#drawing, loop, device, c, d);
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
        drawHousing(this.#drawing, loop, device, here, b);
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
    drawHousing(this.#drawing, loop, first!, start, terminal(first!).b);
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
        drawHousing(this.#drawing, loop, device, a, b);
        if (way === 'chain') [here, back] = [a, b];
      } else if (way === 'chain') {
        const far = isLast ? b : drawing.splice();
        drawing.core(own, 'loop', back, far);
        drawHousing(this.#drawing, loop, device, a, b);
        [here, back] = [b, far];
      } else {
        // Out and back between two places at the first detector; the last one comes back to where the root goes home.
        const there = isLast ? back : drawing.splice();
        drawing.core(own, 'loop', there, b);
        drawHousing(this.#drawing, loop, device, a, b);
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
