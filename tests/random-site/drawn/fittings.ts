import type { Drawing, Fields } from './drawing.ts';

const SENSES = ['negative-applied', 'negative-removed', 'positive-applied', 'positive-removed'] as const;

/** What hangs on the panel beside its zones. */
export class DrawnFittings {
  readonly sounders: Fields[] = [];
  readonly keypads: Fields[] = [];
  readonly supplies: Fields[] = [];
  readonly #drawing: Drawing;
  constructor(drawing: Drawing) {
    this.#drawing = drawing;
  }

  /** Cover switches of their own loop, and the switch under the panel's lid, in the row from one screw to the other. */
  addTamper(): void {
    const drawing = this.#drawing;
    const hosts = drawing.detectors.filter(
      ({ supply, tamper, cable, kind }) =>
        supply !== undefined && kind !== 'smoke' && tamper === undefined && this.#isHomeRun(String(cable)),
    );
    const own = hosts.slice(0, 2);
    const hasLid = own.length === 0 || drawing.is(0.5);
    const first = drawing.screw('zone');
    const second = drawing.screw('common');
    const hasResistor = drawing.is(0.5);
    let here = `old:${first}`;
    if (hasResistor) {
      const behind = drawing.splice();
      drawing.resistor(
        't1.end-of-line',
        { zone: 't1', a: here, b: behind, stands: 'series', place: 'panel', by: 'part' },
        2200,
      );
      here = behind;
    }
    for (const [index, fields] of own.entries()) {
      fields.tamper = 'own';
      const id = String(fields.id);
      const isLast = index === own.length - 1 && !hasLid;
      const there = isLast ? `old:${second}` : drawing.splice();
      drawing.core(String(fields.cable), 'tamper', here, `${id} cover 1`);
      drawing.core(String(fields.cable), 'tamper', there, `${id} cover 2`);
      this.#switch(id, `${id} cover 1`, `${id} cover 2`);
      here = there;
    }
    if (hasLid) this.#switch('lid', here, `old:${second}`);
    drawing.tampers.push({
      id: 't1',
      terminals: [first, second],
      through: [...own.map(({ id }) => id!), ...(hasLid ? ['lid'] : [])],
      loop: hasResistor ? { style: 'series', resistor: '2k2', resistorAt: 'panel' } : { style: 'plain' },
      keep: drawing.chance.pick(['yes', 'given-up']),
    });
  }

  #isHomeRun(cable: string): boolean {
    const { cables, detectors } = this.#drawing;
    const { fields } = cables.get(cable)!;
    const users = detectors.filter((one) => one.cable === cable);
    return (
      fields.from === undefined &&
      users.length === 1 &&
      ![...cables.values()].some((one) => one.fields.from === cable)
    );
  }

  #switch(detector: string, a: string, b: string): void {
    const contact = { detector, purpose: 'tamper', sense: 'normally-closed', a, b } as const;
    this.#drawing.contacts.push({ ...contact, closedOhms: 0.1, unpowered: null, stuck: null });
  }

  /** One that sounds while its pair has voltage; or one in a box with a battery, held off and triggered. */
  addSounder(): void {
    const drawing = this.#drawing;
    const id = `s${this.sounders.length + 1}`;
    const isTwoWire = drawing.is(0.6);
    const cable = drawing.cable(null);
    const amps = drawing.from(10, 30) / 100;
    const [plus, minus] = [`${id} +`, `${id} -`];
    if (isTwoWire) {
      drawing.core(cable, 'sounder-positive', drawing.theScrew('sounder', 0), plus);
      drawing.core(cable, 'sounder-negative', drawing.theScrew('sounder', 1), minus);
    } else {
      drawing.core(cable, 'hold-off', drawing.theScrew('aux-positive'), plus);
      drawing.core(cable, 'sounder-negative', drawing.theScrew('sounder', 1), minus);
      const screw = drawing.screw('output');
      drawing.core(cable, 'trigger', `old:${screw}`, `${id} trigger`, { at: screw });
    }
    const sense = isTwoWire ? 'supply' : drawing.chance.pick(SENSES);
    const hasBattery = !isTwoWire;
    const held = isTwoWire ? amps : 0.05;
    drawing.loads.push({
      device: id,
      positive: plus,
      negative: minus,
      standbyAmps: held,
      alarmAmps: amps,
      minimumVolts: 8,
      idleOhms: drawing.chance.between(60e3, 250e3),
    });
    drawing.sounders.push({
      id,
      positive: plus,
      negative: minus,
      trigger: isTwoWire ? null : `${id} trigger`,
      sense,
      battery: hasBattery ? 'on' : 'none',
      minimumVolts: 8,
    });
    this.sounders.push({
      id,
      cable,
      current: `${Math.round(amps * 1000)} mA`,
      minimum: '9 V',
      wiring: isTwoWire ? 'two-wire' : 'hold-off',
      ownBattery: hasBattery ? 'yes' : drawing.unknown(0.3) ? 'unknown' : 'no',
      trigger: drawing.unknown(0.1) && !isTwoWire ? 'unknown' : sense,
      strobe: 'none',
      holdOff: isTwoWire ? 'none' : { current: '50 mA' },
    });
  }

  addKeypad(): void {
    const drawing = this.#drawing;
    const id = `k${this.keypads.length + 1}`;
    const cable = drawing.cable(null);
    drawing.core(cable, 'aux-positive', drawing.theScrew('aux-positive'), `${id} +`);
    drawing.core(cable, 'aux-negative', drawing.theScrew('aux-negative'), `${id} -`);
    for (const nth of [0, 1])
      drawing.core(cable, 'keypad', drawing.theScrew('keypad', nth), `${id} data ${nth + 1}`);
    drawing.loads.push({
      device: id,
      positive: `${id} +`,
      negative: `${id} -`,
      standbyAmps: 0.05,
      alarmAmps: 0.08,
      minimumVolts: 8,
      idleOhms: drawing.chance.between(60e3, 250e3),
    });
    this.keypads.push({ id, cable, emergencyKeys: 'none' });
  }

  /** 48 V behind 1 kΩ or so, its positive leg at earth in the exchange: from memory. */
  addLine(): void {
    const drawing = this.#drawing;
    const cable = drawing.cable(null);
    for (const nth of [0, 1])
      drawing.core(cable, 'telephone', drawing.theScrew('telephone', nth), `exchange ${nth + 1}`);
    drawing.link('telephone+', 'earth', 500, 'line');
    drawing.sources.push({
      name: 'telephone',
      mode: 'dc',
      volts: 48,
      innerOhms: 1000,
      plus: 'telephone+',
      minus: 'telephone-',
      joins: ['exchange 1', 'exchange 2'],
      connected: true,
      feedsBoard: null,
      induced: false,
    });
  }
}
