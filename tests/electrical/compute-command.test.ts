import { describe, expect, test } from 'vitest';
import { COMPUTE, IDENTIFY } from '../../source/commands/calculations.ts';
import type { Context, Given } from '../../source/commands/command.ts';
import { run as runCompute } from '../../source/commands/compute.ts';
import { Ending } from '../../source/commands/exit.ts';
import { run as runIdentify } from '../../source/commands/identify.ts';

/** A command line as the commands read it, without the library that splits it. */
function given(line: Record<string, string | string[] | true>, argument = ''): Given {
  return {
    arguments: [argument],
    json: line.json === true,
    text: (option) => (typeof line[option] === 'string' ? line[option] : undefined),
    all: (option) => {
      const value = line[option];
      return Array.isArray(value) ? value : [];
    },
    has: (option) => option in line,
  };
}

async function lines(command: typeof runCompute, line: Given, terminal = false): Promise<string[]> {
  const out: string[] = [];
  const say = (text: string) => out.push(text);
  const context = { out: say, drawing: say, env: {}, terminal } as unknown as Context;
  expect(await command(line, context)).toBe(0);
  return out;
}

async function json(command: typeof runCompute, line: Record<string, string | string[] | true>, what = '') {
  const [text = '', ...rest] = await lines(command, given({ ...line, json: true }, what));
  expect(rest).toEqual([]);
  return JSON.parse(text);
}

const CALLS: Record<string, Record<string, string>> = {
  wire: { conductor: '22 AWG', length: '100 ft' },
  drop: { conductor: '16 AWG', length: '100 ft', current: '4 A', source: '24 V', temperature: '75 °C' },
  battery: { standby: '0.42 A', 'hold-up': '24 h', alarm: '3.8 A', 'alarm-time': '5 min', margin: '20 %' },
  'hold-up': { capacity: '7 Ah', current: '1 A' },
  resistor: { colours: 'yellow violet red gold' },
  divider: {
    resistance: '2k2',
    'pull-up': '10k',
    reference: '3.3 V',
    'closed-below': '0.8 V',
    'open-above': '2 V',
  },
};

describe('compute, for programs', () => {
  test.each([
    // 22 AWG: 52.94 Ω/km (four-figure wire table), 100 ft out and back 3.228 Ω.
    ['wire', { ohmsPerMetre: 0.05296, maxOhmsPerMetre: 0.05429, loopOhms: 3.2286 }],
    // electrician2.com: 3.992 V stranded; 4.89 Ω/kft solid at 75 °C gives 3.91 V.
    ['drop', { loopOhms: 0.9767, dropVolts: 3.907, endVolts: 20.093, dropPercent: 16.28 }],
    // maker-label-studio.vercel.app: 12.48 Ah, 12 Ah is short.
    ['battery', { requiredAmpHours: 12.476, chosenAmpHours: 17 }],
    // 20 · (7 / 20)^1.15.
    ['hold-up', { hours: 5.98 }],
    // EN 60062 text: 4465 to 4935 Ω.
    [
      'resistor',
      { ohms: 4700, tolerancePercent: 5, minOhms: 4465, maxOhms: 4935, series: ['E3', 'E6', 'E12', 'E24'] },
    ],
    ['divider', { volts: 0.5951, reads: 'closed', maxClosedOhms: 3200, minOpenOhms: 15384.6 }],
  ])('%s', async (what, expected) => {
    const answer = await json(runCompute, CALLS[what]!, what);
    for (const [key, value] of Object.entries(expected)) {
      if (typeof value === 'number') expect(answer[key] / value).toBeCloseTo(1, 3);
      else expect(answer[key]).toEqual(value);
    }
  });

  test('a bare figure takes the field’s unit, a print its code', async () => {
    const bare = { standby: '0.25', 'hold-up': '24', alarm: '1.5', 'alarm-time': '5' };
    expect(await json(runCompute, bare, 'battery')).toEqual({
      // fatskills.com NICET; what lasts is 24 h / 24.63 h + 5 min / 3.237 h = 1 by Peukert's law, worked out by hand.
      requiredAmpHours: 6.125,
      lastingAmpHours: expect.closeTo(6.1585, 4),
      chosenAmpHours: 7,
    });
    expect(await json(runCompute, { code: 'R47' }, 'resistor')).toMatchObject({
      ohms: 0.47,
      minOhms: 0.4465,
    });
    expect(await json(runCompute, { ...CALLS.divider, resistance: 'OL' }, 'divider')).toMatchObject({
      volts: 3.3,
      reads: 'open',
    });
  });

  test('a named policy stands in for the times and the margin of a battery', async () => {
    // EN 50131-6 type A, grade 2: 12 h; 15 min and 25 %: (0.2 A · 12 h + 1 A · 0.25 h) · 1.25.
    const grade = { standby: '200 mA', alarm: '1 A', preset: 'grade-2' };
    expect(await json(runCompute, grade, 'battery')).toEqual({ requiredAmpHours: 3.3125, chosenAmpHours: 4 });
    const longer = await json(runCompute, { ...grade, 'hold-up': '24 h', margin: '20 %' }, 'battery');
    expect(longer.requiredAmpHours).toBeCloseTo((0.2 * 24 + 0.25) * 1.2, 9);
  });

  test('a temperature is applied to a battery only where one is given', async () => {
    const cold = await json(runCompute, { ...CALLS['hold-up'], temperature: '20 °C' }, 'hold-up');
    expect(cold.hours).toBeCloseTo(5.98 / 1.056, 2);
    // Below the table (IEEE 485 Table 1, from memory) its first slope is carried on, as a plan does it.
    const frozen = await json(runCompute, { ...CALLS['hold-up'], temperature: '-30 °C' }, 'hold-up');
    expect(frozen.hours).toBeCloseTo(5.98 / (1.52 + (26.1 * 0.09) / 2.8), 2);
  });
});

describe('compute, for people', () => {
  test.each([
    ['wire', '100 ft of 22 AWG is 3.23 Ω out and back at 20 °C, and at most 3.31 Ω.'],
    ['drop', '3.91 V is lost on the way (16.3 %): 20.09 V is left of 24 V.'],
    ['battery', '12.48 Ah is needed: take 17 Ah.'],
    ['hold-up', '7 Ah carries 1 A for 5.98 h.'],
    ['divider', '2.2 kΩ gives 0.595 V and reads closed: closed is below 3.2 kΩ, open above 15.4 kΩ.'],
  ])('%s answers in one line', async (what, says) => {
    expect(await lines(runCompute, given(CALLS[what]!, what))).toEqual([says]);
  });

  test('a resistor is drawn, each band with its name', async () => {
    expect(await lines(runCompute, given(CALLS.resistor!, 'resistor'))).toEqual([
      '     ╭──┬────────┬────────┬─────┬──────┬──╮',
      ' ────┤  │ yellow │ violet │ red │ gold │  ├────',
      '     ╰──┴────────┴────────┴─────┴──────┴──╯',
      '4.7 kΩ ±5 %: 4.465 kΩ to 4.935 kΩ, an E3 value.',
    ]);
  });

  test('on a terminal the bands are painted', async () => {
    const [, body = ''] = await lines(runCompute, given(CALLS.resistor!, 'resistor'), true);
    expect(body).toContain('\u001b[48;5;226;38;5;16m yellow \u001b[0m');
  });

  test.each(Object.keys(CALLS))('%s shows its working: formula, figures put in, source', async (what) => {
    const shown = await lines(runCompute, given({ ...CALLS[what]!, explain: true }, what));
    const working = shown.filter((line) => line.startsWith('  ') && !/[╭╰├]/.test(line));
    expect(working.length).toBeGreaterThanOrEqual(3);
    expect(working.filter((line) => line.startsWith('    source: ')).length).toBeGreaterThanOrEqual(1);
    expect(working.join(' ')).toMatch(/=|±|→/);
  });
});

describe('what compute refuses', () => {
  const refusal = async (line: Record<string, string>, what: string) => {
    try {
      await runCompute(given(line, what), {} as Context);
    } catch (error) {
      if (error instanceof Ending) return [error.code, error.message];
      throw error;
    }
    return [];
  };

  test.each([
    [
      'nonsense',
      {},
      'There is no calculation nonsense. There are: wire, drop, battery, hold-up, resistor, divider.',
    ],
    [
      'wire',
      { length: '5 m' },
      '--conductor is missing. Write loopward compute wire --conductor "22 AWG" --length "100 ft"',
    ],
    [
      'wire',
      { conductor: '22', length: '5 m' },
      '--conductor: "22" could be a gauge or an area. Write a size such as 22 AWG, 0.22 mm2 or 7/0.2.',
    ],
    [
      'wire',
      { conductor: '22 AWG', length: '5 V' },
      '--length: "5 V" is a voltage, not a length. Write 14 m, 46 ft or 150 mm.',
    ],
    [
      'wire',
      { ...CALLS.wire, code: '4K7' },
      'wire takes no --code. Write loopward compute wire --conductor "22 AWG" --length "100 ft"',
    ],
    ['drop', { ...CALLS.drop, source: '0 V' }, '--source is 0 V. Give the voltage the cable starts from.'],
    ['drop', { ...CALLS.drop, current: '-1 A' }, '--current is below zero. Give its size without a sign.'],
    [
      'battery',
      { ...CALLS.battery, preset: 'grade-9' },
      '--preset: there is no policy "grade-9". Choose one of grade-1, grade-2, grade-3, grade-3-reported, premises-24h, central-station, defence-8h.',
    ],
    [
      'hold-up',
      { capacity: '7 Ah', current: '0 A' },
      '--capacity and --current must be above zero. Give what the battery has and what is drawn.',
    ],
    [
      'hold-up',
      { ...CALLS['hold-up'], temperature: '91 °C' },
      '--temperature: batteries are reckoned from -40 to 90 °C. Give a temperature within it.',
    ],
    [
      'resistor',
      {},
      'A resistor is read from its print or its bands. Write --code 4K7 or --colours "yellow violet red gold".',
    ],
    [
      'resistor',
      { code: '4K7', colours: 'red red red' },
      'A resistor is read from its print or its bands. Write --code 4K7 or --colours "yellow violet red gold".',
    ],
    [
      'divider',
      { ...CALLS.divider, 'open-above': '4 V' },
      '--closed-below, --open-above and --reference must rise in this order. Check the three voltages.',
    ],
  ])('%s %o', async (what, line, says) => {
    expect(await refusal(line as Record<string, string>, what)).toEqual([2, says]);
  });
});

describe('identify', () => {
  test('answers in the keys of its format, best first', async () => {
    const answer = await json(runIdentify, { rest: '2.13k', active: ['OL'] });
    expect(answer).toMatchObject({ format: 'loopward/identify@1', ambiguous: true, impossible: null });
    expect(answer.ask).toContain('resistor colours');
    for (const key of [
      'style',
      'resistorOhms',
      'alarmResistorOhms',
      'resistorAt',
      'cableOhms',
      'fit',
      'says',
    ]) {
      expect(answer.candidates[0]).toHaveProperty(key);
    }
    const fits = answer.candidates.map((one: { fit: number }) => one.fit);
    expect(fits).toEqual([...fits].sort((a, b) => b - a));
  });

  test('reads a cable as length and conductor in one text', async () => {
    for (const cable of ['18 m 22 AWG', '18 m of 22 AWG', '18m, 22ga', '59 ft 0.22 mm2']) {
      const answer = await json(runIdentify, { rest: '2.18k', active: ['OL'], contacts: '1', cable });
      expect(answer.candidates.map((one: { resistorOhms: number }) => one.resistorOhms)).toEqual([2200]);
    }
  });

  test('says in words what fits and what to find out', async () => {
    const one = { rest: '2.13k', active: ['OL'], contacts: '1' };
    expect(await lines(runIdentify, given(one))).toEqual([
      ' 78 %  Normally closed contacts in a row with one resistor of 2.2 kΩ.',
      ' 22 %  Normally closed contacts in a row with one resistor of 2 kΩ.',
      'The meter cannot tell these apart; the first is the likeliest.',
      'To know more: resistor colours, cable length and conductor, field side alone.',
    ]);
    // Of contacts that nobody counted some may be of the other kind.
    const uncounted = await lines(runIdentify, given({ rest: '2.13k', active: ['OL'] }));
    expect(uncounted).toContain(
      '  7 %  Normally closed and normally open contacts on one resistor of 2.2 kΩ.',
    );
    expect(uncounted.at(-1)).toMatch(/^To know more: how many contacts it has, /);
  });

  test('says what contradicts what', async () => {
    const answer = await json(runIdentify, { rest: 'OL', active: ['OL'] });
    expect(answer.candidates).toEqual([]);
    expect(answer.impossible).toContain('It reads open at rest and with a detector worked.');
  });

  test.each([
    [{}, '--rest is missing. Write loopward identify --rest 2.23k --active OL'],
    [{ rest: 'lots' }, '--rest: "lots" is no figure. Write 2.2k, 2k2, 2200 ohm, or OL for an open circuit.'],
    [
      { rest: '3', cable: 'long' },
      '--cable: "long" is no length and conductor. Write "18 m 22 AWG" or "60 ft 0.22 mm2".',
    ],
    [
      { rest: '3', contacts: 'few' },
      '--contacts: "few" is no number of contacts. Write a whole number from 1.',
    ],
    [
      { rest: '3', active: ['OL', 'OL'], contacts: '1' },
      '--contacts 1 is fewer than the 2 detectors that were worked. Count again.',
    ],
  ])('refuses %o', async (line, says) => {
    const refused = async () => runIdentify(given(line as Record<string, string | string[]>), {} as Context);
    await expect(refused()).rejects.toMatchObject({ message: says, code: 2 });
  });
});

test('every option a calculation takes is one of the command line', () => {
  const flags = [...COMPUTE.options, ...IDENTIFY.options].map(
    (option) => /^--([a-z-]+)/.exec(option.flags)?.[1],
  );
  for (const call of Object.values(CALLS))
    for (const option of Object.keys(call)) expect(flags).toContain(option);
});
