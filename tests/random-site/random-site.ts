import type { Written } from '../../source/site/document.ts';
import type { RandomSurveyOptions } from '../random-survey.ts';
import { RandomFittings } from './fittings.ts';
import { type Cable, type Device, type Fields, Making, type Zone } from './making.ts';
import { OPEN_KINDS, RandomZones } from './zones.ts';

const FEEDS = [
  ...['plug-in-transformer', 'plug-in-transformer', 'plug-in-transformer', 'dc-adapter'],
  ...['hard-wired-transformer', 'mains-in-enclosure', 'unknown'],
];
const COLOURS = ['red', 'black', 'yellow', 'blue', 'green', 'white', 'orange', 'brown'];

/** One site, made up from a seed. Fields are built in the order in which a survey is taken. */
export class RandomSite {
  readonly #making: Making;
  readonly #zones: RandomZones;
  readonly #fittings: RandomFittings;
  readonly #supplies: Fields[] = [];
  readonly #outputs: Fields[] = [];

  constructor(seed: number, options: RandomSurveyOptions) {
    this.#making = new Making(seed, options);
    this.#zones = new RandomZones(this.#making);
    this.#fittings = new RandomFittings(this.#making);
  }

  fields(): Written {
    const chance = this.#making.chance;
    const zones = this.#making.options.zones ?? chance.from(1, 8);
    const extra =
      this.#making.options.detectors === undefined
        ? null
        : Math.max(0, this.#making.options.detectors - zones);
    const lifeSafety = this.#making.options.lifeSafety ?? chance.is(0.25);
    for (let index = 0; index < zones; index += 1) {
      const isLast = index === zones - 1;
      const more =
        extra === null
          ? chance.pick(0, 0, 0, 1, 1, 2, 3)
          : Math.floor((extra * (index + 1)) / zones) - Math.floor((extra * index) / zones);
      this.#zones.add(index, more + 1, lifeSafety && isLast);
    }
    this.#zones.shareReturn();
    if (this.#making.options.tampers ?? chance.is(0.25)) this.#fittings.addTamper();
    const sounders = chance.pick(0, 1, 1, 1, 2);
    for (let index = 0; index < sounders; index += 1) this.#fittings.addSounder(index);
    const keypads = chance.pick(0, 1, 1, 2);
    for (let index = 0; index < keypads; index += 1) this.#fittings.addKeypad(index);
    const signalling = chance.pick('none', 'telephone', 'telephone', 'network', 'radio', 'unknown');
    if (signalling === 'telephone') this.#fittings.addLine();
    return this.#survey(lifeSafety, signalling);
  }

  #survey(lifeSafety: boolean, signalling: string): Written {
    const chance = this.#making.chance;
    const devices = this.#making.zones.flatMap((zone) => zone.devices);
    this.#feedOneFromElsewhere(devices);
    if (chance.is(0.1)) {
      const voltage = chance.pick('extra-low', 'extra-low', 'mains', 'unknown');
      this.#outputs.push({
        terminals: [this.#making.newScrew('output'), this.#making.newScrew('output')],
        drives: 'yard light',
        voltage,
      });
    }
    const terminals = [...this.#making.roles].map(([number, role]) => ({ number, role }));
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
        feedVoltage: '18 V',
        enclosure: chance.pick('metal', 'plastic', 'wood', 'unknown'),
        batteries: [{ capacity: '7 Ah', chemistry: 'sealed-lead-acid', installed: '2019' }],
        slack: `${chance.from(4, 30) * 10} mm`,
        ...(chance.is(0.85) || this.#making.needsTerminals ? { terminals } : {}),
      },
      ...(this.#supplies.length > 0 ? { supplies: this.#supplies } : {}),
      ...(this.#outputs.length > 0 ? { outputs: this.#outputs } : {}),
      network: { kind: 'wired', backup: chance.pick('none', 'unknown', '4 h') },
      zones: this.#making.zones.map((zone) => zone.fields),
      ...(this.#making.zones.length > 2 && chance.is(0.2) ? { mayShare: [['z1', 'z2']] } : {}),
      ...(this.#making.tampers.length > 0 ? { tampers: this.#making.tampers } : {}),
      detectors: devices.map(({ fields, cable }) => ({ ...fields, cable: cable.id })),
      cables: this.#making.cables.map((cable) => this.#cableFields(cable)),
      ...(this.#fittings.sounders.length > 0 ? { sounders: this.#fittings.sounders } : {}),
      ...(this.#fittings.keypads.length > 0 ? { keypads: this.#fittings.keypads } : {}),
      boards: this.#boards(),
    };
    return survey;
  }

  #feedOneFromElsewhere(devices: readonly Device[]): void {
    const device = devices.find((each) => each.powered && this.#making.isHomeRun(each));
    if (device === undefined || !this.#making.chance.is(0.15)) return;
    device.cable.cores = device.cable.cores.filter((core) => !core.use.startsWith('aux'));
    device.fields.supply ??= 'unknown';
    this.#supplies.push({ id: 'x1', place: 'loft', kind: 'adapter', battery: 'no', feeds: [device.id] });
  }

  #cableFields(cable: Cable): Written {
    const chance = this.#making.chance;
    const most = this.#making.options.fits === false ? 150 : 45;
    const length = chance.is(0.3) ? `${chance.from(10, most * 3)} ft` : `${chance.from(3, most)} m`;
    return {
      id: cable.id,
      length: this.#making.unknown(0.08) ? 'unknown' : length,
      ...(chance.is(0.2) ? { measured: 'yes' } : {}),
      conductor: this.#making.unknown(0.05)
        ? 'unknown'
        : chance.pick('22 AWG', '22 AWG', '24 AWG', '18 AWG', '0.22 mm2', '7/0.2', '0.5 mm2'),
      ...(cable.from === undefined ? {} : { from: cable.from }),
      cores: cable.cores.map((core, index) => ({ ...core, colour: COLOURS[index % COLOURS.length]! })),
    };
  }

  #boards(): Written {
    const sizes: Record<string, number> = { 'six-paired': 6, 'eight-paired': 8, 'twelve-supervised': 12 };
    const names = Object.keys(sizes);
    const need = this.#making.zones.reduce(
      (sum, zone) => sum + inputsNeeded(zone),
      this.#making.tampers.length,
    );
    const boards: Fields[] = [];
    let inputs = 0;
    do {
      const file = this.#making.chance.pick(...names);
      boards.push({ id: `b${boards.length + 1}`, file });
      inputs += sizes[file]!;
    } while (this.#making.options.fits !== false && inputs < need);
    return boards;
  }
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
