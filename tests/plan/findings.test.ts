import { describe, expect, test } from 'vitest';
import { FINDING_CODES, type FindingCode } from '../../source/plan/finding-codes.ts';
import type { Severity } from '../../source/plan/plan.ts';
import { type Disturbance, planOfShed, type quietBoard } from './quiet-site.ts';

const set = (path: string, value: unknown) => ({ path, value }) as { path: string; value: string };

/** A smoke detector on a cable and zone of its own; what it is wired to at the panel can be said. */
const smoke = (kind = 'smoke', aux = false) => [
  set('zones.z3', {
    id: 'z3',
    terminals: ['9', '10'],
    loop: { style: 'across', resistor: '2k2', resistorAt: { detector: 'gas-bottle' } },
    detectors: ['gas-bottle'],
  }),
  set('detectors.gas-bottle', {
    id: 'gas-bottle',
    kind,
    contact: 'normally-open',
    place: 'interior',
    cable: 'c9',
    ...(aux
      ? { supply: { standby: '10 mA', alarm: '40 mA', minimum: '9 V', maximum: '16 V', warmUp: '1 s' } }
      : {}),
  }),
  set('cables.c9', {
    id: 'c9',
    length: '9 m',
    measured: 'yes',
    conductor: '22 AWG',
    cores: [
      { colour: 'white', use: 'loop' },
      { colour: 'brown', use: 'loop' },
      ...(aux
        ? [
            { colour: 'red', use: 'aux-positive' },
            { colour: 'black', use: 'aux-negative' },
          ]
        : []),
    ],
  }),
];

const field = (path: string, value: unknown): Disturbance => ({ changes: [set(path, value)] });
const battery = (of: object): Disturbance => ({
  board: (quiet) => ({ ...quiet, battery: { ...quiet.battery!, ...of } }),
});

type Case = Disturbance & { readonly severity: Severity };

/** For each code something that goes wrong in a shed where nothing is. */
const CASES: Record<FindingCode, Case> = {
  'survey-incomplete': {
    severity: 'caution',
    changes: ['zones', 'detectors', 'cables', 'sounders'].map((path) => set(path, null)),
  },
  'too-few-inputs': {
    severity: 'block',
    board: (quiet) => ({ ...quiet, inputs: quiet.inputs.slice(0, 1) }),
  },
  'aux-overloaded': {
    severity: 'block',
    board: (quiet) => ({ ...quiet, aux: { ...quiet.aux, amps: 0.02 } }),
  },
  'sounder-overloaded': {
    severity: 'block',
    board: (quiet) => ({ ...quiet, sounder: { ...quiet.sounder!, amps: 0.15 } }),
  },
  'supply-overloaded': {
    severity: 'block',
    board: (quiet) => ({ ...quiet, adapter: { ...quiet.adapter, amps: 0.5 } }),
  },
  'adapter-unfit': {
    severity: 'caution',
    board: (quiet) => ({ ...quiet, adapter: { ...quiet.adapter, volts: 15 } }),
  },
  'detector-undervoltage': { severity: 'block', ...field('cables.c3.length', '600 m') },
  'detector-overvoltage': { severity: 'caution', ...field('detectors.crew.supply.maximum', '13 V') },
  'detector-unfed': { severity: 'caution', ...field('detectors.crew.supply', 'none') },
  'contact-overloaded': {
    severity: 'caution',
    board: (quiet) => ({ ...quiet, sensing: { ...quiet.sensing, pullUpOhms: 47 } }),
  },
  'battery-too-small': { severity: 'caution', ...battery({ capacityAmpHours: 1.2 }) },
  'battery-never-charged': { severity: 'caution', ...battery({ floatVolts: 14 }) },
  'recharge-too-slow': { severity: 'caution', ...battery({ chargeAmps: 0.2 }) },
  'charge-too-fast': { severity: 'caution', ...battery({ capacityAmpHours: 1.2 }) },
  'no-battery': { severity: 'caution', board: (quiet) => ({ ...quiet, battery: null }) },
  'input-ambiguous': {
    severity: 'caution',
    board: (quiet) => ({ ...quiet, sensing: { ...quiet.sensing, closedBelowVolts: 0.05 } }),
  },
  'loop-too-long': { severity: 'caution', ...field('cables.c1.length', '1200 m') },
  'loop-powered': { severity: 'caution', ...field('detectors.bay.supply', 'from-loop') },
  'pulse-too-short': { severity: 'caution', ...field('detectors.bay.pulse', '100 ms') },
  'needs-analyser': { severity: 'caution', ...field('detectors.bay.pulse', 'needs-analyser') },
  'reset-lost': { severity: 'caution', ...field('detectors.crew.control', 'reset') },
  'low-contact-current': {
    severity: 'note',
    board: (quiet) => ({ ...quiet, sensing: { ...quiet.sensing, pullUpOhms: 10_000 } }),
  },
  'aux-on-input': {
    severity: 'note',
    board: (quiet) => ({ ...quiet, sensing: { ...quiet.sensing, inputMaximumVolts: 5 } }),
  },
  'shared-return': {
    severity: 'note',
    changes: [
      set('zones.z1.detectors', ['bay']),
      set('zones.z3', { id: 'z3', terminals: ['9', '6'], loop: { style: 'plain' }, detectors: ['hatch'] }),
      set('detectors.hatch.cable', 'c1'),
      set('cables.c2', null),
      set('cables.c1.cores', [
        { colour: 'white', use: 'loop', for: 'bay' },
        { colour: 'green', use: 'loop', for: 'hatch' },
        { colour: 'brown', use: 'common' },
      ]),
    ],
  },
  'resistor-unknown': { severity: 'caution', ...field('zones.z2.loop.resistor', 'unknown') },
  'resistor-at-detector': {
    severity: 'note',
    changes: [
      set('zones.z2.loop.resistor', '2k2'),
      set('zones.z2.loop.resistorAt', { detector: 'crew', by: 'part' }),
    ],
  },
  'resistor-at-panel': {
    severity: 'caution',
    board: (quiet) => ({
      ...quiet,
      supervision: { style: 'series', resistorOhms: 1000, alarmResistorOhms: null, window: 0.2 },
    }),
  },
  'supervision-lost': {
    severity: 'note',
    changes: [
      set('zones.z2.loop.resistor', '2k2'),
      set('zones.z2.loop.resistorAt', { detector: 'crew', by: 'part' }),
    ],
  },
  'joined-in-field': {
    severity: 'note',
    changes: [set('zones.z1.joined', 'field'), set('cables.c2.from', 'c1')],
  },
  'shared-input': { severity: 'note', board: (quiet) => ({ ...quiet, inputs: quiet.inputs.slice(0, 2) }) },
  'tamper-given-up': {
    severity: 'note',
    changes: [
      set('tampers', [{ id: 't1', terminals: ['9', '10'], through: ['crew'], keep: 'given-up' }]),
      set('detectors.crew.tamper', 'own'),
      set('cables.c3.cores', [
        { colour: 'yellow', use: 'loop' },
        { colour: 'blue', use: 'loop' },
        { colour: 'red', use: 'aux-positive' },
        { colour: 'black', use: 'aux-negative' },
        { colour: 'green', use: 'tamper' },
        { colour: 'white', use: 'tamper' },
      ]),
    ],
  },
  'screw-overfilled': {
    severity: 'note',
    board: (quiet) => ({ ...quiet, terminals: { ...quiet.terminals, conductors: 1 } }),
  },
  'conductor-unfit': {
    severity: 'caution',
    board: (quiet) => ({ ...quiet, terminals: { ...quiet.terminals, from: quiet.terminals.to } }),
  },
  'conductor-short': { severity: 'caution', ...field('panel.slack', '50 mm') },
  'unused-core': {
    severity: 'note',
    ...field('cables.c1.cores', [
      { colour: 'white', use: 'loop' },
      { colour: 'brown', use: 'loop' },
      { colour: 'green', use: 'spare' },
    ]),
  },
  'life-safety-held-out': { severity: 'gate', changes: smoke() },
  'life-safety-shares': { severity: 'gate', changes: smoke('smoke', true) },
  'mains-in-enclosure': { severity: 'gate', ...field('outside.feed', 'mains-in-enclosure') },
  'feed-unknown': { severity: 'gate', ...field('outside.feed', 'unknown') },
  'sounder-own-battery': { severity: 'gate', ...field('sounders.horn.ownBattery', 'yes') },
  'sounder-needs-hold-off': { severity: 'gate', ...field('sounders.horn.trigger', 'negative-removed') },
  'sounder-sense-unfit': { severity: 'gate', ...field('sounders.horn.trigger', 'negative-applied') },
  'sounder-no-cutoff': {
    severity: 'gate',
    board: (quiet) => ({ ...quiet, sounder: { ...quiet.sounder!, limitSeconds: null } }),
  },
  monitored: { severity: 'gate', ...field('outside.monitored', 'yes') },
  'telephone-line': { severity: 'gate', ...field('outside.signalling', 'telephone') },
  'output-mains': {
    severity: 'gate',
    ...field('outputs', [{ terminals: ['9', '10'], drives: 'yard light', voltage: 'unknown' }]),
  },
  'foreign-supply': { severity: 'gate', ...field('outside.otherFeeds', 'unknown') },
  'network-without-backup': { severity: 'caution', ...field('network.backup', '2 h') },
  'wireless-in-metal': {
    severity: 'caution',
    ...field('panel.enclosure', 'metal'),
    board: (quiet) => ({ ...quiet, network: 'wireless' }),
  },
  'contact-unknown': { severity: 'caution', ...field('detectors.bay.contact', 'unknown') },
  'length-unknown': { severity: 'caution', ...field('cables.c1.length', 'unknown') },
  'current-unknown': {
    severity: 'caution',
    ...field('detectors.crew.supply', { minimum: '9 V', maximum: '15 V' }),
  },
  'own-feed-ac': { severity: 'caution', ...field('outside.feed', 'plug-in-transformer') },
};

/** Where a finding says it in other words: what goes wrong then. */
const IN_OTHER_WORDS: readonly (readonly [FindingCode, Case])[] = [
  ['mains-in-enclosure', { severity: 'gate', ...field('outside.feed', 'hard-wired-transformer') }],
  [
    'monitored',
    { severity: 'gate', changes: [set('outside.monitored', 'unknown'), set('outside.signalling', 'radio')] },
  ],
  ['telephone-line', { severity: 'gate', ...field('outside.signalling', 'unknown') }],
  ['foreign-supply', { severity: 'gate', ...field('outside.otherFeeds', 'present') }],
  [
    'sounder-own-battery',
    {
      severity: 'gate',
      changes: [set('sounders.horn.ownBattery', 'unknown'), set('outside.sounderBattery', 'unknown')],
    },
  ],
  [
    'output-mains',
    {
      severity: 'gate',
      ...field('outputs', [{ terminals: ['9', '10'], drives: 'yard light', voltage: 'mains' }]),
    },
  ],
];

describe('what nobody knows, and cannot be', () => {
  test('a panel that has no way to call anybody is not watched, though nobody has asked', () => {
    const plan = planOfShed({
      changes: [set('outside.monitored', 'unknown'), set('outside.signalling', 'none')],
    });
    expect(plan.findings).toEqual([]);
  });

  test('what nobody knows of a sounder, the look from outside has told', () => {
    expect(planOfShed({ changes: [set('sounders.horn.ownBattery', 'unknown')] }).findings).toEqual([]);
  });
});

describe('findings', () => {
  test('a shed where everything is known and nothing is wrong has none: it is ready', () => {
    const plan = planOfShed();
    expect(plan.findings).toEqual([]);
    expect(plan.verdict).toBe('ready');
  });

  test.each([...FINDING_CODES.map((code) => [code, CASES[code]] as const), ...IN_OTHER_WORDS])(
    '%s is found when it is so, and only then',
    (code, what) => {
      expect(what, 'a finding has its case in CASES').toBeDefined();
      const { severity, ...disturbance } = what;
      expect(planOfShed().findings.map((finding) => finding.code)).not.toContain(code);
      const plan = planOfShed(disturbance);
      const found = plan.findings.filter((finding) => finding.code === code);
      expect(found.map((finding) => finding.severity)).toContain(severity);
      for (const { message, about } of found) {
        expect(about.length).toBeGreaterThan(0);
        // One sentence of what is so, one of what to do.
        expect(message).toMatch(/^.+[.:].+\.$/s);
        expect(message).not.toMatch(/undefined|NaN|null/);
      }
      if (severity === 'block') expect(plan.verdict).toBe('blocked');
      else expect(plan.verdict).not.toBe('blocked');
    },
  );
});

test.each(IN_OTHER_WORDS)('%s has other words for it', (code, what) => {
  const says = (disturbance: Disturbance) =>
    planOfShed(disturbance).findings.find((finding) => finding.code === code)?.message;
  expect(says(what)).not.toBe(says(CASES[code]));
});

describe('findings prove themselves with figures', () => {
  test('an overloaded aux: 25 mA drawn, 20 mA given', () => {
    const found = planOfShed(CASES['aux-overloaded']).findings.find(({ code }) => code === 'aux-overloaded');
    expect(found?.figures).toEqual({ auxAmps: 0.025, auxMaximumAmps: 0.02 });
  });

  test('a shortfall that rests on an assumed current is a caution, not a block', () => {
    const plan = planOfShed({
      changes: [set('detectors.crew.supply', { minimum: '9 V', maximum: '15 V' })],
      board: CASES['aux-overloaded'].board!,
    });
    expect(plan.findings.find(({ code }) => code === 'aux-overloaded')?.severity).toBe('caution');
    expect(plan.verdict).toBe('caution');
  });

  test('an undervoltage names the least change that mends it, and the mended survey is not short', () => {
    const short = planOfShed({ changes: [set('cables.c3.length', '500 m')] });
    const found = short.findings.find(({ code }) => code === 'detector-undervoltage')!;
    expect(found.figures.remedy).toBe('second-run');
    const doubled = planOfShed({
      changes: [
        set('cables.c3.length', '500 m'),
        set('cables.c3.cores', [
          { colour: 'yellow', use: 'loop' },
          { colour: 'blue', use: 'loop' },
          { colour: 'red', use: 'aux-positive' },
          { colour: 'green', use: 'doubled' },
          { colour: 'black', use: 'aux-negative' },
          { colour: 'white', use: 'doubled' },
        ]),
      ],
    });
    expect(doubled.findings.map(({ code }) => code)).not.toContain('detector-undervoltage');
  });

  test('a daisy chain too thin for one new cable is mended by a thicker one all the way', () => {
    const far = (id: string, from: string) => ({
      id,
      from,
      length: '250 m',
      measured: 'yes',
      conductor: '22 AWG',
      cores: [
        { colour: 'yellow', use: 'loop' },
        { colour: 'blue', use: 'loop' },
        { colour: 'red', use: 'aux-positive' },
        { colour: 'black', use: 'aux-negative' },
      ],
    });
    const device = (id: string, cable: string) => ({
      id,
      kind: 'movement',
      contact: 'normally-closed',
      place: 'interior',
      cable,
      supply: { standby: '15 mA', alarm: '25 mA', minimum: '9 V', maximum: '15 V', warmUp: '1 min' },
    });
    const plan = planOfShed({
      changes: [
        set('cables.c3.length', '250 m'),
        set('cables.c5', far('c5', 'c3')),
        set('cables.c6', far('c6', 'c5')),
        set('detectors.d5', device('d5', 'c5')),
        set('detectors.d6', device('d6', 'c6')),
        set('zones.z2.joined', 'field'),
        set('zones.z2.detectors', ['crew', 'd5', 'd6']),
      ],
    });
    const found = plan.findings.find(
      ({ code, about }) => code === 'detector-undervoltage' && about[0] === 'd6',
    )!;
    expect(found.severity).toBe('block');
    expect(found.figures).toMatchObject({ remedy: 'conductor', cable: 'c6, c5 and c3' });
    expect(Number(found.figures.mendedVolts)).toBeGreaterThanOrEqual(9);
  });

  test('too few inputs: the one choice of sharing it names does close the gap', () => {
    const changes = [
      set('zones.z3', { id: 'z3', terminals: ['9', '10'], loop: { style: 'plain' }, detectors: ['hatch'] }),
      set('zones.z1.detectors', ['bay']),
    ];
    const board = (quiet: ReturnType<typeof quietBoard>) => ({ ...quiet, inputs: quiet.inputs.slice(0, 2) });
    const short = planOfShed({ changes, board });
    const { figures } = short.findings.find(({ code }) => code === 'too-few-inputs')!;
    expect(figures).toMatchObject({ needed: 3, inputs: 2, shortage: 1 });
    const mayShare = JSON.parse(String(figures.mayShare));
    const mended = planOfShed({ changes: [...changes, set('mayShare', mayShare)], board });
    expect(mended.verdict).not.toBe('blocked');
    expect(mended.grouping.loss).toBe(figures.lossThen);
  });

  test('life safety is never moved, whatever else a survey says', () => {
    const plan = planOfShed({
      changes: [...smoke('smoke', true), set('detectors.gas-bottle.input', 'b1/1')],
    });
    expect(plan.circuits.flatMap(({ detectors }) => detectors)).not.toContain('gas-bottle');
    const stays = plan.connections.filter(({ conductor }) => conductor.startsWith('c9/'));
    expect(stays.map(({ by }) => by)).toEqual(['untouched', 'untouched', 'untouched', 'untouched']);
  });
});
