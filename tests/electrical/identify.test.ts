import { describe, expect, test } from 'vitest';
import { identifyLoop, type LoopReadings } from '../../source/electrical/identify.ts';

const OPEN = Number.POSITIVE_INFINITY;
const found = (readings: LoopReadings) =>
  identifyLoop(readings).candidates.map((one) => [one.style, one.resistorOhms, one.alarmResistorOhms]);
const KNOWN_CABLE = { min: 1.3, nominal: 1.9, max: 2.6 };

describe('styles, by the loop table', () => {
  test('low at rest and open when worked: plain', () => {
    const { candidates, ambiguous, ask } = identifyLoop({ restOhms: 2.4, activeOhms: [OPEN, OPEN] });
    expect(candidates).toEqual([
      {
        style: 'plain',
        contacts: 'normally-closed',
        resistorOhms: null,
        alarmResistorOhms: null,
        bridgeOhms: null,
        resistorAt: null,
        cableOhms: 2.4,
        fit: 1,
        says: 'Normally closed contacts in a row, no resistor; about 2.4 Ω of cable and contacts.',
      },
    ]);
    expect([ambiguous, ask]).toEqual([false, []]);
  });

  test('open at rest and low when worked: plain, normally open', () => {
    expect(identifyLoop({ restOhms: OPEN, activeOhms: [3] }).candidates[0]).toMatchObject({
      style: 'plain',
      contacts: 'normally-open',
    });
  });

  test.each<[string, LoopReadings, unknown]>([
    [
      'a resistor at rest, open when worked: series',
      { restOhms: 2230, activeOhms: [OPEN] },
      ['series', 2200, null],
    ],
    [
      'a resistor at rest, low when worked: across',
      { restOhms: 4710, activeOhms: [2.3] },
      ['across', 4700, null],
    ],
    ['some open, some low: mixed', { restOhms: 2205, activeOhms: [OPEN, 3] }, ['mixed', 2200, null]],
    [
      'a second resistor more when worked',
      { restOhms: 2205, activeOhms: [4405] },
      ['two-resistor', 2200, 2200],
    ],
    ['2.2 k and 4.7 k', { restOhms: 2205, activeOhms: [6905] }, ['two-resistor', 2200, 4700]],
    [
      'half when worked: two resistors, normally open',
      { restOhms: 1005, activeOhms: [505] },
      ['two-resistor', 1000, 1000],
    ],
    [
      'low at rest, a resistor when worked: bridged',
      { restOhms: 3, activeOhms: [1003, 2205] },
      ['bridged', null, null],
    ],
  ])('%s', (_, readings, first) => {
    expect(found(readings)[0]).toEqual(first);
  });

  test('bridges come in the order of the readings', () => {
    const [first] = identifyLoop({ restOhms: 3, activeOhms: [1003, 2205] }).candidates;
    expect(first?.bridgeOhms).toEqual([1000, 2200]);
  });
});

test('a contact that nobody worked, or counted, may be of the other kind: no answer stands alone', () => {
  for (const contacts of [undefined, 3]) {
    const known = contacts === undefined ? {} : { contacts };
    const one = identifyLoop({ restOhms: 2230, activeOhms: [OPEN], ...known });
    expect(one.candidates.map(({ style }) => style)).toEqual(expect.arrayContaining(['series', 'mixed']));
    expect(one.candidates[0]?.style).toBe('series');
    expect(one.ambiguous).toBe(true);
    expect(one.ask).toContain(contacts === undefined ? 'how many contacts it has' : 'each detector worked');
  }
  expect(identifyLoop({ restOhms: 2230, activeOhms: [OPEN], contacts: 1 }).candidates).toHaveLength(1);
});

describe('values', () => {
  test('any two values whose windows overlap are both given, and the colours asked for', () => {
    // 2.0 k + 5 % + 100 Ω is 2200, 2.2 k − 5 % is 2090: a reading between may be either.
    const { candidates, ambiguous, ask } = identifyLoop({ restOhms: 2130, activeOhms: [OPEN], contacts: 1 });
    expect(candidates.map((one) => one.resistorOhms)).toEqual([2200, 2000]);
    expect(ambiguous).toBe(true);
    expect(ask[0]).toBe('resistor colours');
  });

  test('a known cable narrows the window', () => {
    const read = { restOhms: 2180, activeOhms: [OPEN], contacts: 1 };
    const known = identifyLoop({ ...read, cableOhms: KNOWN_CABLE });
    expect(known.candidates.map((one) => one.resistorOhms)).toEqual([2200]);
    const unknown = identifyLoop(read);
    expect(unknown.candidates.map((one) => one.resistorOhms)).toEqual([2200, 2000]);
  });

  test('every further contact may hide a protection resistor of its own', () => {
    // 1050 Ω of a 5 % part, three relays of up to 50 Ω (10 to 47 Ω, from memory) and some cable.
    const values = (contacts: number) =>
      identifyLoop({ restOhms: 1210, activeOhms: [OPEN], contacts }).candidates.map(
        (one) => one.resistorOhms,
      );
    expect(values(3)).toContain(1000);
    expect(values(1)).not.toContain(1000);
  });

  test('seen colours settle the value', () => {
    expect(found({ restOhms: 2130, activeOhms: [OPEN], contacts: 1, resistorOhms: 2000 })).toEqual([
      ['series', 2000, null],
    ]);
  });

  test('seen colours that the reading denies are a contradiction', () => {
    const { impossible } = identifyLoop({ restOhms: 2130, activeOhms: [OPEN], resistorOhms: 4700 });
    expect(impossible).toBe(
      'A resistor of 4.7 kΩ by its colours does not give 2.13 kΩ at rest. Read the colours and the loop again.',
    );
  });

  test('E96 only where no E24 value fits', () => {
    // 1.3 k + 5 % is 1365 and 1.5 k − 5 % is 1425: a fine meter and little cable leave only E96 between.
    const cableOhms = { min: 0.5, nominal: 1, max: 1.5 };
    const fine = { fraction: 0.002, floor: 0.2 };
    const { candidates } = identifyLoop({ restOhms: 1421, activeOhms: [OPEN], contacts: 1, cableOhms }, fine);
    expect(candidates.map((one) => one.resistorOhms)).toEqual([1430, 1400, 1370]);
  });
});

test('a few hundred ohms may be a small resistor or a corroded row: neither is said alone', () => {
  const { candidates, ambiguous } = identifyLoop({ restOhms: 330, activeOhms: [OPEN] });
  expect(candidates.map((one) => one.style)).toContain('series');
  expect(candidates.find((one) => one.style === 'plain')?.says).toBe(
    'Normally closed contacts in a row, no resistor; about 330 Ω of cable and contacts, more than sound ones have.',
  );
  expect(ambiguous).toBe(true);
});

describe('where the resistor sits', () => {
  test.each([
    [3, 'panel'],
    [2230, 'detector'],
  ])('the field side alone reads %d: at the %s', (fieldOhms, place) => {
    const [first] = identifyLoop({ restOhms: 2230, activeOhms: [OPEN], fieldOhms }).candidates;
    expect(first?.resistorAt).toBe(place);
  });

  test('without that reading nobody knows, and it is asked for', () => {
    const { candidates, ask } = identifyLoop({ restOhms: 2230, activeOhms: [OPEN], contacts: 1 });
    expect([candidates[0]?.resistorAt, ask]).toEqual(['unknown', ['field side alone']]);
  });

  test('across normally open contacts, an open field side puts it at the panel', () => {
    const [first] = identifyLoop({ restOhms: 4710, activeOhms: [2.3], fieldOhms: OPEN }).candidates;
    expect(first).toMatchObject({ style: 'across', resistorAt: 'panel' });
  });
});

describe('readings that no loop gives', () => {
  test.each<[string, LoopReadings, string]>([
    [
      'open at rest and open when worked',
      { restOhms: OPEN, activeOhms: [OPEN] },
      'It reads open at rest and with a detector worked. Look for a cut or loose conductor, or a detector without its supply.',
    ],
    [
      'unchanged when worked',
      { restOhms: 2230, activeOhms: [2232] },
      'It reads 2.23 kΩ at rest and 2.23 kΩ with a detector worked: the contact does nothing. Check that this detector is on this loop, and that its contact is not bridged or unpowered.',
    ],
    [
      'low at rest and low when worked',
      { restOhms: 2.4, activeOhms: [2.5] },
      'It reads 2.4 Ω at rest and 2.5 Ω with a detector worked: the contact does nothing. Check that this detector is on this loop, and that its contact is not bridged or unpowered.',
    ],
    [
      'more than any resistor of a loop',
      { restOhms: 470_000 },
      '470 kΩ is more than any loop’s resistor. Look for damp between the conductors of an open loop.',
    ],
    [
      'a leak where it should be open',
      { restOhms: 3, activeOhms: [220_000] },
      '220 kΩ is more than any loop’s resistor. Look for damp between the conductors of an open loop.',
    ],
    [
      'one detector open, another with a second resistor',
      { restOhms: 2230, activeOhms: [OPEN, 4430] },
      '2.23 kΩ at rest and open, 4.43 kΩ with detectors worked fit no single style. Read each again with all others at rest.',
    ],
    [
      'open at rest, one detector finite but not low',
      { restOhms: OPEN, activeOhms: [2200] },
      'It reads open at rest and 2.2 kΩ with detectors worked, which no single style gives. Read each again.',
    ],
    [
      'less than its own cable',
      { restOhms: 0.3, activeOhms: [OPEN], cableOhms: { min: 4, nominal: 6, max: 8 } },
      '0.3 Ω is less than the cable alone can have. Look for a short on the way, or check the cable’s length and size.',
    ],
    [
      'a cover that changes the reading in no known way',
      { restOhms: 2230, activeOhms: [OPEN], tamperOhms: 1100 },
      'With the cover off it reads 1.1 kΩ, neither open nor as at rest. Read again with one cover off and every detector at rest.',
    ],
  ])('%s', (_, readings, says) => {
    const result = identifyLoop(readings);
    expect(result.impossible?.replaceAll("'", '’')).toBe(says);
    expect(result.candidates).toEqual([]);
  });

  test('an open loop that was never worked may as well be cut: no answer stands alone', () => {
    expect(identifyLoop({ restOhms: OPEN })).toMatchObject({
      ambiguous: true,
      ask: ['each detector worked'],
    });
  });
});
