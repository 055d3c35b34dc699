import * as z from 'zod/mini';
import { BATTERY_CELSIUS } from '../electrical/battery.ts';
import { choice, conductor, count, id, list, partOr, quantity, terminal, words } from './fields.ts';
import { DETECTOR_KINDS } from './survey.ts';

/** The survey file as it is written, field by field; what is left out stays `undefined`. */
const group = z.strictObject;
const yesNo = () => z.optional(choice('yes', 'no', 'unknown'));
const presence = () => z.optional(choice('none', 'present', 'unknown'));
const current = () => z.optional(quantity('amps', { to: 50 }, 'unknown'));
const part = { from: 1, says: 'ohms above 1 with a unit, such as 2k2 or 2.2 kohm' };
const names = () => list(id());

/** Words with which an id could be mistaken where devices are named. */
const RESERVED_DEVICES = ['lid', 'panel', 'none', 'unknown'] as const;

const ROLES = [
  'ac',
  'battery',
  'sounder',
  'aux-positive',
  'aux-negative',
  'keypad',
  'telephone',
  'earth',
  'output',
  'zone',
  'common',
  'unused',
] as const;

export const USES = [
  'loop',
  'common',
  'tamper',
  'aux-positive',
  'aux-negative',
  'sounder-positive',
  'sounder-negative',
  'hold-off',
  'trigger',
  'strobe',
  'tamper-return',
  'keypad',
  'telephone',
  'data',
  'screen',
  'doubled',
  'spare',
  'other',
] as const;

const loop = group({
  style: choice('plain', 'series', 'across', 'mixed', 'two-resistor', 'bridged'),
  resistor: z.optional(quantity('ohms', part, 'unknown')),
  alarmResistor: z.optional(quantity('ohms', part, 'unknown')),
  resistorAt: z.optional(
    partOr(
      group({ detector: id(), by: z.optional(choice('jumper', 'part', 'unknown')) }),
      '{detector: side-door, by: part}',
      'panel',
      'unknown',
      'detector',
    ),
  ),
  bridges: z.optional(z.record(z.string(), quantity('ohms', part))),
});

const detector = group({
  id: id(...RESERVED_DEVICES),
  name: z.optional(words()),
  kind: choice(...DETECTOR_KINDS),
  contact: z.optional(choice('normally-closed', 'normally-open', 'changeover', 'unknown')),
  place: z.optional(choice('entry', 'perimeter', 'interior', 'outside')),
  cable: id(),
  importance: z.optional(count(0, 5)),
  input: z.optional(boardInput()),
  pulse: z.optional(quantity('seconds', { to: 3600 }, 'none', 'needs-analyser', 'unknown')),
  supply: z.optional(
    partOr(
      group({
        standby: current(),
        alarm: current(),
        minimum: z.optional(quantity('volts', { from: 1 }, 'unknown')),
        maximum: z.optional(quantity('volts', { from: 1 }, 'unknown')),
        warmUp: z.optional(quantity('seconds', { to: 7200 }, 'unknown')),
      }),
      '{standby: 15 mA, alarm: 25 mA, minimum: 9.5 V}',
      'none',
      'from-loop',
      'unknown',
    ),
  ),
  control: z.optional(choice('none', 'reset', 'set-line', 'unknown')),
  unpowered: z.optional(choice('open', 'closed', 'unknown')),
  tamper: z.optional(choice('none', 'in-loop', 'own')),
});

function boardInput() {
  return z.transform((value: unknown, context): string => {
    if (typeof value === 'string' && /^[a-z0-9][a-z0-9-]{0,23}\/[a-z0-9][a-z0-9-]{0,23}$/.test(value)) {
      return value;
    }
    context.issues.push({
      code: 'custom',
      message: 'This names no input.',
      input: value,
      params: { accepts: 'board and input, such as b1/1' },
    });
    return z.NEVER;
  });
}

const cable = group({
  id: id('panel'),
  length: z.optional(quantity('metres', { from: 0.01, to: 2000 }, 'unknown')),
  measured: z.optional(choice('yes', 'no', 'true', 'false')),
  conductor: z.optional(conductor('unknown')),
  from: z.optional(id()),
  cores: z.array(
    group({
      colour: z.optional(words(30)),
      use: choice(...USES),
      for: z.optional(id()),
      at: z.optional(terminal()),
    }),
  ),
});

const sounder = group({
  id: id(...RESERVED_DEVICES),
  name: z.optional(words()),
  cable: id(),
  current: current(),
  minimum: z.optional(quantity('volts', { from: 1 }, 'unknown')),
  wiring: z.optional(choice('two-wire', 'hold-off', 'unknown')),
  ownBattery: yesNo(),
  trigger: z.optional(
    choice(
      'supply',
      'negative-applied',
      'negative-removed',
      'positive-applied',
      'positive-removed',
      'unknown',
    ),
  ),
  strobe: z.optional(partOr(group({ current: quantity('amps') }), '{current: 120 mA}', 'none', 'unknown')),
  holdOff: z.optional(partOr(group({ current: quantity('amps') }), '{current: 50 mA}', 'none', 'unknown')),
});

export const surveyFile = group({
  format: choice('loopward/survey@1'),
  site: z.optional(
    group({
      name: z.optional(words()),
      reference: z.optional(words(40)),
      address: z.optional(words(200)),
      contact: z.optional(words(200)),
    }),
  ),
  conditions: z.optional(
    group({
      cableTemperature: z.optional(quantity('celsius', { from: -40, to: 90 }, 'unknown')),
      batteryTemperature: z.optional(
        quantity('celsius', { from: BATTERY_CELSIUS.min, to: BATTERY_CELSIUS.max }, 'unknown'),
      ),
    }),
  ),
  policy: z.optional(
    group({
      holdUp: z.optional(quantity('seconds', { from: 60 })),
      alarm: z.optional(quantity('seconds')),
      batteryMargin: z.optional(quantity('fraction', { to: 2 })),
      interruption: z.optional(
        quantity('seconds', {
          from: 300,
          to: 3600,
          says: 'a time from 5 min to 60 min',
        }),
      ),
    }),
  ),
  outside: z.optional(
    group({
      feed: z.optional(
        choice(
          'plug-in-transformer',
          'dc-adapter',
          'hard-wired-transformer',
          'mains-in-enclosure',
          'unknown',
        ),
      ),
      signalling: z.optional(choice('none', 'telephone', 'network', 'radio', 'unknown')),
      monitored: yesNo(),
      set: z.optional(choice('unset', 'service', 'set', 'unknown')),
      lifeSafety: presence(),
      otherFeeds: presence(),
      sounderBattery: yesNo(),
    }),
  ),
  panel: z.optional(
    group({
      feedVoltage: z.optional(
        quantity('volts', { to: 60, says: 'volts up to 60 V, such as 18 V' }, 'unknown'),
      ),
      enclosure: z.optional(choice('metal', 'plastic', 'wood', 'none', 'unknown')),
      earthed: yesNo(),
      batteries: list(
        group({
          capacity: z.optional(quantity('ampHours', { from: 0.01 }, 'unknown')),
          chemistry: z.optional(words(40)),
          installed: z.optional(words(20)),
        }),
      ),
      slack: z.optional(quantity('metres', { to: 10 }, 'unknown')),
      terminals: list(group({ number: terminal(), role: choice(...ROLES) })),
    }),
  ),
  supplies: list(
    group({
      id: id(),
      place: z.optional(words()),
      kind: z.optional(words(40)),
      battery: yesNo(),
      feeds: names(),
    }),
  ),
  outputs: list(
    group({
      terminals: list(terminal()),
      drives: words(),
      voltage: z.optional(choice('extra-low', 'mains', 'unknown')),
    }),
  ),
  network: z.optional(
    group({
      kind: z.optional(choice('wired', 'wireless', 'unknown')),
      backup: z.optional(quantity('seconds', {}, 'none', 'unknown')),
    }),
  ),
  zones: list(
    group({
      id: id(),
      name: z.optional(words()),
      terminals: z.tuple([terminal(), terminal()]),
      loop,
      joined: z.optional(z.union([choice('panel', 'field', 'single', 'unknown'), z.array(z.array(id()))])),
      detectors: names(),
    }),
  ),
  mayShare: list(names()),
  tampers: list(
    group({
      id: id(),
      terminals: z.tuple([terminal(), terminal()]),
      through: names(),
      loop: z.optional(loop),
      keep: z.optional(choice('yes', 'given-up')),
    }),
  ),
  detectors: list(detector),
  cables: list(cable),
  sounders: list(sounder),
  keypads: list(
    group({
      id: id(...RESERVED_DEVICES),
      cable: id(),
      emergencyKeys: z.optional(choice('none', 'fire', 'medical', 'panic', 'unknown')),
    }),
  ),
  boards: list(z.union([id(), group({ id: id('panel'), file: words(200) })])),
});

export type SurveyFile = z.output<typeof surveyFile>;
