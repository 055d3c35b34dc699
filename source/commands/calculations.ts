import type { Command, Option } from './command.ts';

const JSON_OUT: Option = { flags: '--json', says: 'nothing but JSON on standard output' };
const EXPLAIN: Option = { flags: '--explain', says: 'the formula, the figures put in, and the source' };

/** The calculations of `compute`, and the options each of them takes. */
export const CALCULATIONS = [
  {
    name: 'wire',
    takes: ['conductor', 'length', 'temperature'],
    example: 'loopward compute wire --conductor "22 AWG" --length "100 ft"',
  },
  {
    name: 'drop',
    takes: ['conductor', 'length', 'temperature', 'current', 'source'],
    example: 'loopward compute drop --conductor "16 AWG" --length "100 ft" --current "4 A" --source "24 V"',
  },
  {
    name: 'battery',
    takes: ['standby', 'hold-up', 'alarm', 'alarm-time', 'margin', 'preset', 'temperature'],
    example:
      'loopward compute battery --standby "0.42 A" --hold-up "24 h" --alarm "3.8 A" --alarm-time "5 min" --margin "20 %"',
  },
  {
    name: 'hold-up',
    takes: ['capacity', 'current', 'temperature'],
    example: 'loopward compute hold-up --capacity "7 Ah" --current "1 A"',
  },
  {
    name: 'resistor',
    takes: ['code', 'colours'],
    example: 'loopward compute resistor --colours "yellow violet red gold"',
  },
  {
    name: 'divider',
    takes: ['resistance', 'pull-up', 'reference', 'closed-below', 'open-above'],
    example:
      'loopward compute divider --resistance 2k2 --pull-up 10k --reference "3.3 V" --closed-below "0.8 V" --open-above "2 V"',
  },
] as const;
export type CalculationName = (typeof CALCULATIONS)[number]['name'];

export const COMPUTE: Command = {
  name: 'compute',
  summary: 'one calculation: wire, drop, battery, resistor ...',
  arguments: [{ flags: '<what>', says: CALCULATIONS.map(({ name }) => name).join(', ') }],
  options: [
    { flags: '--conductor <size>', says: 'wire, drop: 22 AWG, 0.22 mm2, 7/0.2' },
    { flags: '--length <length>', says: 'wire, drop: one way, 14 m or 46 ft' },
    { flags: '--temperature <degrees>', says: 'of the cable (20 °C if left out) or the battery' },
    { flags: '--current <amps>', says: 'drop, hold-up: what is drawn' },
    { flags: '--source <volts>', says: 'drop: what the cable starts from' },
    { flags: '--standby <amps>', says: 'battery: drawn at rest' },
    { flags: '--hold-up <time>', says: 'battery: how long, 12 h' },
    { flags: '--alarm <amps>', says: 'battery: drawn in alarm' },
    { flags: '--alarm-time <time>', says: 'battery: how long in alarm, 15 min' },
    { flags: '--margin <percent>', says: 'battery: for ageing, 20 % or 25 %' },
    { flags: '--preset <policy>', says: 'battery: times and margin of a standard, grade-2' },
    { flags: '--capacity <amp-hours>', says: 'hold-up: of the battery, 7 Ah' },
    { flags: '--code <print>', says: 'resistor: as printed, 4K7' },
    { flags: '--colours <bands>', says: 'resistor: "yellow violet red gold"' },
    { flags: '--resistance <ohms>', says: 'divider: across the input, 2k2 or OL' },
    { flags: '--pull-up <ohms>', says: 'divider: of the input, 10k' },
    { flags: '--reference <volts>', says: 'divider: what the pull-up hangs on' },
    { flags: '--closed-below <volts>', says: 'divider: threshold for closed' },
    { flags: '--open-above <volts>', says: 'divider: threshold for open' },
    EXPLAIN,
    JSON_OUT,
  ],
  example: CALCULATIONS[0].example,
  load: () => import('./compute.ts'),
};

export const IDENTIFY: Command = {
  name: 'identify',
  summary: 'what loop is this, from its meter readings',
  arguments: [],
  options: [
    { flags: '--rest <ohms>', says: 'with every detector at rest; OL for open' },
    { flags: '--active <ohms>', says: 'with one detector worked', many: true },
    { flags: '--tamper <ohms>', says: 'with a cover off' },
    {
      flags: '--field <ohms>',
      says: 'at rest, the wires to the field alone, without what sits at the panel',
    },
    { flags: '--cable <run>', says: 'length and conductor, "18 m 22 AWG"' },
    { flags: '--contacts <number>', says: 'how many contacts the loop has' },
    { flags: '--colours <bands>', says: 'of the resistor, where they were seen' },
    EXPLAIN,
    JSON_OUT,
  ],
  example: 'loopward identify --rest 2.23k --active OL --cable "18 m 22 AWG"',
  load: () => import('./identify.ts'),
};
