import type { Core, Fields, Making } from './making.ts';

/** What hangs on the panel beside its zones. */
export class RandomFittings {
  readonly sounders: Fields[] = [];
  readonly keypads: Fields[] = [];
  readonly #making: Making;
  constructor(making: Making) {
    this.#making = making;
  }

  addTamper(): void {
    const own = this.#making.zones
      .flatMap((zone) => zone.devices)
      .filter(
        (device) => device.powered && device.fields.tamper === undefined && this.#making.isHomeRun(device),
      )
      .slice(0, 3);
    for (const device of own) {
      device.fields.tamper = 'own';
      device.cable.cores.push({ colour: '', use: 'tamper' }, { colour: '', use: 'tamper' });
    }
    const through = [
      ...own.map((device) => device.id),
      ...(own.length === 0 || this.#making.chance.is(0.5) ? ['lid'] : []),
    ];
    const hasResistor = this.#making.chance.is(0.5);
    this.#making.tampers.push({
      id: 't1',
      terminals: [this.#making.newScrew('zone'), this.#making.newScrew('common')],
      through,
      loop: hasResistor ? { style: 'series', resistor: '2k2', resistorAt: 'panel' } : { style: 'plain' },
      keep: this.#making.chance.pick('yes', 'given-up'),
    });
  }

  addSounder(index: number): void {
    const chance = this.#making.chance;
    const wiring = chance.pick('two-wire', 'two-wire', 'hold-off', 'unknown');
    const cores: Core[] = [
      { colour: '', use: 'sounder-positive' },
      { colour: '', use: 'sounder-negative' },
    ];
    if (wiring === 'hold-off') {
      cores.push({ colour: '', use: 'hold-off' });
      cores.push({ colour: '', use: 'trigger', at: this.#making.newScrew('output') });
      if (chance.is(0.5)) cores.push({ colour: '', use: 'strobe', at: this.#making.newScrew('output') });
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
    const cable = this.#making.newCable(undefined, cores);
    this.sounders.push({
      id: `s${index + 1}`,
      cable: cable.id,
      current: this.#making.unknown(0.1)
        ? 'unknown'
        : `${chance.from(10, this.#making.options.fits === false ? 90 : 35) * 10} mA`,
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
    this.#making.needsTerminals = true;
    cores.push({ colour: '', use: 'tamper-return' });
    this.#making.tampers.push({
      id: `t${this.#making.tampers.length + 2}-${id}`,
      terminals: [this.#making.newScrew('zone'), '4'],
      through: [id],
      loop: { style: 'plain' },
      keep: this.#making.chance.pick('yes', 'given-up'),
    });
  }

  addKeypad(index: number): void {
    const before =
      index > 0 && this.#making.chance.is(0.3) ? String(this.keypads[index - 1]!.cable) : undefined;
    const cable = this.#making.newCable(
      before,
      ['aux-positive', 'aux-negative', 'keypad', 'keypad'].map((use) => ({ colour: '', use })),
    );
    if (index === 0) for (const _ of [1, 2]) this.#making.newScrew('keypad');
    const emergencyKeys = this.#making.chance.pick(
      'none',
      'none',
      'none',
      'fire',
      'medical',
      'panic',
      'unknown',
    );
    this.keypads.push({ id: `k${index + 1}`, cable: cable.id, emergencyKeys });
  }

  addLine(): void {
    this.#making.newCable(
      undefined,
      ['telephone', 'telephone'].map((use) => ({ colour: '', use })),
    );
    for (const _ of [1, 2]) this.#making.newScrew('telephone');
  }
}
