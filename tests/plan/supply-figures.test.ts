import { describe, expect, test } from 'vitest';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { adapterReading, auxReading } from '../../source/plan/supply/readings.ts';
import type { Board } from '../../source/site/board.ts';
import { shippedBoard } from '../random-survey.ts';
import { planOfShed, type quietBoard } from './quiet-site.ts';

// Figures worked out by hand from ASTM B258 (22 AWG: 0.64381 mm, 52.963 Ω/km at 20 °C out of 0.017241 Ω·mm²/m,
// IEC 60028), stranding 1.025 (NFPA 70 Ch. 9 Table 8) and the boards' files.

const set = (path: string, value: unknown) => ({ path, value }) as { path: string; value: string };
const OHMS_A_METRE = 0.052963;
const found = (plan: Plan, code: string) => plan.findings.filter((finding) => finding.code === code);

const pair = (id: string, use: string, length: string, from?: string) =>
  set(`cables.${id}`, {
    id,
    ...(from === undefined ? {} : { from }),
    length,
    measured: 'yes',
    conductor: '22 AWG',
    cores: [
      { colour: 'red', use: `${use}-positive` },
      { colour: 'black', use: `${use}-negative` },
    ],
  });
const horn = (id: string, cable: string, current: string) =>
  set(`sounders.${id}`, {
    id,
    cable,
    current,
    minimum: '9 V',
    wiring: 'two-wire',
    ownBattery: 'no',
    trigger: 'supply',
    strobe: 'none',
    holdOff: 'none',
  });

describe('sounders on one cable', () => {
  const plan = planOfShed({
    changes: [
      pair('c4', 'sounder', '30 m'),
      pair('c5', 'sounder', '10 m', 'c4'),
      horn('horn', 'c4', '350 mA'),
      horn('far', 'c5', '350 mA'),
    ],
  });

  test('the far one of two of 350 mA on 30 m and 10 m gets what both leave, and it is found', () => {
    const far = plan.supply[0]!.sounders.find(({ id }) => id === 'far')!;
    const lost = 2 * OHMS_A_METRE * (30 * 0.7 + 10 * 0.35);
    expect(far.batteryEndVolts).toBeCloseTo(10.5 - 0.3 - lost, 3);
    expect(far.worstVolts).toBeCloseTo(10.5 - 0.3 - lost * 1.025 * 1.05, 3);
    const [short] = found(plan, 'detector-undervoltage').filter(({ about }) => about[0] === 'far');
    expect(short?.message).toContain('needs 9 V and gets 7.6 V at the end of the battery');
    expect(short?.figures.worstVolts).toBe(far.worstVolts);
  });

  test('both come to the board over the one end that they have there', () => {
    const goes = plan.connections.filter(({ conductor }) => /^c[45]\//.test(conductor));
    expect(goes.map(({ conductor, to }) => [conductor, 'terminal' in to ? to.terminal : 'stays'])).toEqual([
      ['c4/1', 'S+'],
      ['c4/2', 'S-'],
      ['c5/1', 'stays'],
      ['c5/2', 'stays'],
    ]);
  });
});

test('100 and 200 mA on an aux of 300 mA fit, though their sum in binary fractions is a hair more', () => {
  const drawing = (alarm: string) => ({
    standby: '10 mA',
    alarm,
    minimum: '9 V',
    maximum: '15 V',
    warmUp: '1 min',
  });
  const changes = [
    set('detectors.crew.supply', drawing('100 mA')),
    set('detectors.bay.supply', drawing('200 mA')),
    set('detectors.bay.kind', 'movement'),
    set('cables.c1.cores', [
      { colour: 'white', use: 'loop' },
      { colour: 'brown', use: 'loop' },
      { colour: 'red', use: 'aux-positive' },
      { colour: 'black', use: 'aux-negative' },
    ]),
  ];
  const withAux = (amps: number) =>
    planOfShed({ changes, board: (quiet) => ({ ...quiet, aux: { ...quiet.aux, amps } }) });
  expect(withAux(0.3).supply[0]!.auxAmps).toBeGreaterThan(0.3);
  expect(found(withAux(0.3), 'aux-overloaded')).toEqual([]);
  // What reads the same in three digits is told by how much it is more.
  const [over] = found(withAux(0.2999), 'aux-overloaded');
  expect(over?.message).toContain('gives 300 mA on aux, and its detectors draw 100 µA more');
});

describe('the highest voltage', () => {
  test('is aux with its tolerance: 14.11 V on a detector that stands 13.9 V, and power-up passes no more than it stands', () => {
    const plan = planOfShed({ changes: [set('detectors.crew.supply.maximum', '13.9 V')] });
    const [high] = found(plan, 'detector-overvoltage');
    // 13.7 V + 3 %, less 15 mA over 2 × 15 m at its shortest.
    const least = 13.7 * 1.03 - 2 * 15 * 0.95 * OHMS_A_METRE * 0.015;
    expect(high?.figures.highestVolts).toBeCloseTo(least, 3);
    expect(auxReading(plan, plan.boards[0]!).usable.max).toBe(13.9);
  });

  test('of a regulated 12 V aux without a battery is 12.6 V, whatever its adapter gives', () => {
    const board = (quiet: ReturnType<typeof quietBoard>): Board => ({
      ...quiet,
      battery: null,
      aux: { ...quiet.aux, mainsVolts: 12, mainsTolerance: 0.05 },
    });
    const plan = planOfShed({ board, changes: [set('detectors.crew.supply.maximum', '13 V')] });
    expect(found(plan, 'detector-overvoltage')).toEqual([]);
    expect(plan.supply[0]!.devices[0]!.highestVolts).toBeCloseTo(12.6 - 0.0226, 3);
  });
});

describe('an old run as the lead of the adapter', () => {
  const changes = [
    pair('lead', 'sounder', '20 m'),
    set('cables.lead.cores', [{ use: 'other' }, { use: 'other' }]),
  ];
  const board = (quiet: Board): Board => ({ ...quiet, adapter: { ...quiet.adapter, lead: 'lead' } });
  const plan = planOfShed({ changes, board });
  const mostOhms = 2 * 20 * 1.05 * OHMS_A_METRE * 1.025;

  test('carries board, detectors, sounders and charging, for the board and for the detector alike', () => {
    const { alarmAmps, devices } = plan.supply[0]!;
    const drop = mostOhms * (alarmAmps + 0.4);
    expect(alarmAmps).toBeCloseTo(0.14 + 0.025 + 0.2, 9);
    const wants = (quiet: Board): Board => ({
      ...board(quiet),
      supply: { ...quiet.supply, accepts: { fromVolts: 12.5, toVolts: 15 } },
    });
    const [unfit] = found(planOfShed({ changes, board: wants }), 'adapter-unfit');
    expect(unfit?.figures.leastVolts).toBeCloseTo(14.2 * 0.97 - drop, 3);
    const nominal = 2 * 20 * OHMS_A_METRE * (alarmAmps + 0.4);
    const own = 2 * 15 * OHMS_A_METRE * 0.025;
    expect(devices[0]!.mainsVolts).toBeCloseTo(13.7 * 0.97 - nominal - own, 3);
  });

  test('keeps a battery from its float voltage: it never fills, and nothing says in how many hours it does', () => {
    // 14.2 V − 3 % − 2.28 Ω × 155 mA in standby = 13.42 V, and it floats at 13.7 V.
    const [never] = found(plan, 'battery-never-charged');
    expect(never?.figures.adapterVolts).toBeCloseTo(14.2 * 0.97 - mostOhms * 0.155, 3);
    expect(plan.supply[0]!.battery!.rechargeHours).toBe(Number.POSITIVE_INFINITY);
    expect(found(plan, 'recharge-too-slow')).toEqual([]);
  });
});

describe('the adapter of the board with six inputs, which cannot fill its battery', () => {
  const survey = planOfShed().survey;
  const six = shippedBoard('six-paired');
  const plan = planChangeover(survey, [six]);
  const [never] = found(plan, 'battery-never-charged');

  test('is advised in a voltage and tolerance that do, and with it in the file the plan says so everywhere', () => {
    expect(never?.message).toContain('14.4 V ±4 %');
    const better = {
      ...six,
      adapter: { ...six.adapter, volts: Number(never!.figures.advisedVolts), tolerance: 0.04 },
    };
    const again = planChangeover(survey, [better]);
    expect(found(again, 'battery-never-charged')).toEqual([]);
    expect(found(again, 'adapter-unfit')).toEqual([]);
    expect(again.parts.map(({ item }) => item)).toContain('adapter 14.4 V DC 2 A');
    const bench = adapterReading(again, better);
    expect([bench.min, bench.nominal, bench.max]).toEqual([13.63, 14.4, 15.18]);
    // Its float voltage, 13.7 V, less the meter's own doubt: below it the battery never fills.
    expect(bench.usable).toEqual({ min: 13.51, max: 15 });
  });
});

test('a loop over a chain counts every cable of it', () => {
  // 500 m and 500 m of 22 AWG, out and back: 52.96 Ω each.
  const plan = planOfShed({
    changes: [
      set('zones.z1.joined', 'field'),
      set('cables.c1.length', '500 m'),
      set('cables.c2.length', '500 m'),
      set('cables.c2.from', 'c1'),
    ],
  });
  const [long] = found(plan, 'loop-too-long');
  expect(long?.figures.loopOhms).toBeCloseTo(2 * 1000 * OHMS_A_METRE, 1);
});
