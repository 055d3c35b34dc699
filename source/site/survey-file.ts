import * as z from 'zod';
import { choice, conductor, count, id, list, partOr, quantity, terminal, words } from './fields.ts';
import { DETECTOR_KINDS } from './survey.ts';

/** The survey file as it is written, field by field; what is left out stays `undefined`. */
const group = z.strictObject;
const yesNo = () => choice('yes', 'no', 'unknown').optional();
const presence = () => choice('none', 'present', 'unknown').optional();
const current = () => quantity('amps', { to: 50 }, 'unknown').optional();
const part = { from: 1, says: 'ohms above 1 with a unit, such as 2k2 or 2.2 kohm' };
const names = () => list(id());

/** Words with which an id could be mistaken where devices are named. */
const RESERVED_DEVICES = ['lid', 'panel', 'none', 'unknown'] as const;

export const ROLES = [
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
  resistor: quantity('ohms', part, 'unknown').optional(),
  alarmResistor: quantity('ohms', part, 'unknown').optional(),
  resistorAt: partOr(
    group({ detector: id(), by: choice('jumper', 'part', 'unknown').optional() }),
    '{detector: side-door, by: part}',
    'panel',
    'unknown',
    'detector',
  ).optional(),
  bridges: z.record(z.string(), quantity('ohms', part)).optional(),
});

const detector = group({
  id: id(...RESERVED_DEVICES),
  name: words().optional(),
  kind: choice(...DETECTOR_KINDS),
  contact: choice('normally-closed', 'normally-open', 'changeover', 'unknown').optional(),
  place: choice('entry', 'perimeter', 'interior', 'outside').optional(),
  cable: id(),
  importance: count(0, 5).optional(),
  input: boardInput().optional(),
  pulse: quantity('seconds', { to: 3600 }, 'none', 'needs-analyser', 'unknown').optional(),
  supply: partOr(
    group({
      standby: current(),
      alarm: current(),
      minimum: quantity('volts', { from: 1 }, 'unknown').optional(),
      maximum: quantity('volts', { from: 1 }, 'unknown').optional(),
      warmUp: quantity('seconds', { to: 7200 }, 'unknown').optional(),
    }),
    '{standby: 15 mA, alarm: 25 mA, minimum: 9.5 V}',
    'none',
    'from-loop',
    'unknown',
  ).optional(),
  control: choice('none', 'reset', 'set-line', 'unknown').optional(),
  unpowered: choice('open', 'closed', 'unknown').optional(),
  tamper: choice('none', 'in-loop', 'own').optional(),
});

function boardInput() {
  return z.any().transform((value, context): string => {
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
  length: quantity('metres', { from: 0.01, to: 2000 }, 'unknown').optional(),
  measured: choice('yes', 'no', 'true', 'false').optional(),
  conductor: conductor('unknown').optional(),
  from: id().optional(),
  cores: z.array(
    group({
      colour: words(30).optional(),
      use: choice(...USES),
      for: id().optional(),
      at: terminal().optional(),
    }),
  ),
});

const sounder = group({
  id: id(...RESERVED_DEVICES),
  name: words().optional(),
  cable: id(),
  current: current(),
  minimum: quantity('volts', { from: 1 }, 'unknown').optional(),
  wiring: choice('two-wire', 'hold-off', 'unknown').optional(),
  ownBattery: yesNo(),
  trigger: choice(
    'supply',
    'negative-applied',
    'negative-removed',
    'positive-applied',
    'positive-removed',
    'unknown',
  ).optional(),
  strobe: partOr(group({ current: quantity('amps') }), '{current: 120 mA}', 'none', 'unknown').optional(),
  holdOff: partOr(group({ current: quantity('amps') }), '{current: 50 mA}', 'none', 'unknown').optional(),
});

export const surveyFile = group({
  format: choice('loopward/survey@1'),
  site: group({
    name: words().optional(),
    reference: words(40).optional(),
    address: words(200).optional(),
    contact: words(200).optional(),
  }).optional(),
  conditions: group({
    cableTemperature: quantity('celsius', { from: -40, to: 90 }, 'unknown').optional(),
    batteryTemperature: quantity('celsius', { from: -40, to: 90 }, 'unknown').optional(),
  }).optional(),
  policy: group({
    holdUp: quantity('seconds', { from: 60 }).optional(),
    alarm: quantity('seconds').optional(),
    batteryMargin: quantity('fraction', { to: 2 }).optional(),
    interruption: quantity('seconds', {
      from: 300,
      to: 3600,
      says: 'a time from 5 min to 60 min',
    }).optional(),
  }).optional(),
  outside: group({
    feed: choice(
      'plug-in-transformer',
      'dc-adapter',
      'hard-wired-transformer',
      'mains-in-enclosure',
      'unknown',
    ).optional(),
    signalling: choice('none', 'telephone', 'network', 'radio', 'unknown').optional(),
    monitored: yesNo(),
    set: choice('unset', 'service', 'set', 'unknown').optional(),
    lifeSafety: presence(),
    otherFeeds: presence(),
    sounderBattery: yesNo(),
  }).optional(),
  panel: group({
    feedVoltage: quantity(
      'volts',
      { to: 60, says: 'volts up to 60 V, such as 16.5 V' },
      'unknown',
    ).optional(),
    enclosure: choice('metal', 'plastic', 'wood', 'none', 'unknown').optional(),
    earthed: yesNo(),
    batteries: list(
      group({
        capacity: quantity('ampHours', { from: 0.01 }, 'unknown').optional(),
        chemistry: words(40).optional(),
        installed: words(20).optional(),
      }),
    ),
    slack: quantity('metres', { to: 10 }, 'unknown').optional(),
    terminals: list(group({ number: terminal(), role: choice(...ROLES) })),
  }).optional(),
  supplies: list(
    group({
      id: id(),
      place: words().optional(),
      kind: words(40).optional(),
      battery: yesNo(),
      feeds: names(),
    }),
  ),
  outputs: list(
    group({
      terminals: list(terminal()),
      drives: words(),
      voltage: choice('extra-low', 'mains', 'unknown').optional(),
    }),
  ),
  network: group({
    kind: choice('wired', 'wireless', 'unknown').optional(),
    backup: quantity('seconds', {}, 'none', 'unknown').optional(),
  }).optional(),
  zones: list(
    group({
      id: id(),
      name: words().optional(),
      terminals: z.tuple([terminal(), terminal()]),
      loop,
      joined: z.union([choice('panel', 'field', 'single', 'unknown'), z.array(z.array(id()))]).optional(),
      detectors: names(),
    }),
  ),
  mayShare: list(names()),
  tampers: list(
    group({
      id: id(),
      terminals: z.tuple([terminal(), terminal()]),
      through: names(),
      loop: loop.optional(),
      keep: choice('yes', 'given-up').optional(),
    }),
  ),
  detectors: list(detector),
  cables: list(cable),
  sounders: list(sounder),
  keypads: list(
    group({
      id: id(...RESERVED_DEVICES),
      cable: id(),
      emergencyKeys: choice('none', 'fire', 'medical', 'panic', 'unknown').optional(),
    }),
  ),
  boards: list(z.union([id(), group({ id: id('panel'), file: words(200) })])),
});

export type SurveyFile = z.output<typeof surveyFile>;
