import { describe, expect, test } from 'vitest';
import { HomieDevices, mappingOfHomie } from '../../source/live/homie.ts';
import { type Candidate, type LearnedInput, Learner, learnMapping } from '../../source/live/learn.ts';
import { readMapping } from '../../source/live/mapping.ts';
import type { Message } from '../../source/live/message.ts';

const message = (topic: string, payload: string, kept = false): Message => ({
  topic,
  payload: Buffer.from(payload),
  atMilliseconds: 0,
  kept,
});
const input = (id: string, ...names: string[]): LearnedInput => ({ id, names: [`I${id}`, ...names] });
const INPUTS = [input('1', 'shutter'), input('2', 'side-door'), input('12', 'loft')];

/** Holds an input closed, open and closed, as the screen asks, while a board tells it in its own way. */
function held(
  one: LearnedInput,
  tell: (state: 'open' | 'closed', at: number) => readonly Message[],
): readonly Candidate[] {
  const learner = new Learner();
  for (const [at, state] of (['closed', 'open', 'closed'] as const).entries()) {
    learner.hold(state);
    for (const told of tell(state, at)) learner.take(told);
  }
  return learner.candidates(one);
}

/** Learns from the first two inputs, and answers what the mapping then makes of the third. */
async function third(tell: (name: number, state: 'open' | 'closed', at: number) => readonly Message[]) {
  const [first, second] = [0, 1].map((at) => held(INPUTS[at]!, (state, time) => tell(at, state, time))[0]!);
  const mapping = learnMapping({ input: INPUTS[0]!, at: first! }, { input: INPUTS[1]!, at: second! }, INPUTS);
  if (typeof mapping === 'string') throw new Error(mapping);
  const reader = await readMapping(
    mapping,
    INPUTS.map(({ id }) => id),
  );
  if (typeof reader === 'string') throw new Error(reader);
  return {
    mapping,
    told: tell(2, 'open', 9)
      .flatMap((one) => reader.read(one))
      .filter((one) => one.is === 'input'),
  };
}
const OPEN_12 = [{ is: 'input', input: '12', state: 'open' }];

describe('a mapping is learned from two inputs, and then knows a third', () => {
  test('by the number in the topic, with a counter and a neighbour that change by themselves', async () => {
    const { mapping, told } = await third((at, state, time) => [
      message('harbour/uptime', `${time * 7 + 3}`),
      message(`harbour/in-${INPUTS[at]!.id}/state`, state === 'open' ? 'ON' : 'OFF'),
      message('harbour/tide', `${time % 2 ? 'ebb' : 'flood'}${time}`),
    ]);
    expect(mapping).toMatchObject({
      topic: 'harbour/in-{input}/state',
      open: ['ON'],
      closed: ['OFF'],
      names: {},
    });
    expect(told).toEqual(OPEN_12);
  });

  test('by what stands on the terminal, or the name that was typed from the input sheet', async () => {
    const onTerminal = await third((at, state) => [message(`yard/I${INPUTS[at]!.id}`, state)]);
    expect(onTerminal.told).toEqual(OPEN_12);
    const byName = await third((at, state) => [message(`yard/${INPUTS[at]!.names[1]}/contact`, state)]);
    expect(byName.mapping).toMatchObject({ topic: 'yard/{input}/contact', names: { '12': 'loft' } });
    expect(byName.told).toEqual(OPEN_12);
  });

  test('by a member of a JSON payload, beside others that change', async () => {
    const { mapping, told } = await third((at, state, time) => [
      message(
        `yard/${INPUTS[at]!.id}`,
        JSON.stringify({ contact: state === 'open', battery: 97 - time, seen: `${time}` }),
      ),
    ]);
    expect(mapping).toMatchObject({ state: 'contact', open: ['true'], closed: ['false'] });
    expect(told).toEqual(OPEN_12);
  });

  test('by one message for all inputs', async () => {
    const all = (at: number, state: string) =>
      Object.fromEntries(
        INPUTS.map(({ id }, index) => [`in${id}`, { level: index === at && state === 'open' ? 1 : 0 }]),
      );
    const { mapping, told } = await third((at, state) => [
      message('yard/all', JSON.stringify({ inputs: all(at, state) })),
    ]);
    expect(mapping.state).toBe("$['inputs']['in{input}']['level']");
    expect(told).toContainEqual(OPEN_12[0]);
  });

  test('what the broker kept, and what does not follow the input twice, is no candidate', () => {
    const found = held(INPUTS[0]!, (state, at) => [
      message('harbour/in-1', state, true),
      message('harbour/door', at === 0 ? 'a' : at === 1 ? 'b' : 'c'),
    ]);
    expect(found).toEqual([]);
  });

  test('two inputs that do not tell in the same place are refused in words', () => {
    const at = (topic: string, open: string): Candidate => ({ topic, path: '', open, closed: 'x' });
    const learn = (a: Candidate, b: Candidate) =>
      learnMapping({ input: INPUTS[0]!, at: a }, { input: INPUTS[1]!, at: b }, INPUTS);
    expect(learn(at('a/1/b', 'o'), at('c/2/d', 'o'))).toMatch(/differ in more than one place\. Learn again/);
    expect(learn(at('a/1', 'o'), at('a/2', 'p'))).toMatch(
      /Hold each as asked, open and closed, and learn again\.$/,
    );
    expect(learn(at('a/1', 'o'), at('a/1', 'o'))).toMatch(/do not tell their states in the same place/);
  });
});

describe('a board that follows the Homie convention is understood without a mapping', () => {
  const five = (format?: string) =>
    JSON.stringify({
      homie: '5.0',
      version: 1,
      nodes: {
        inputs: {
          properties: Object.fromEntries(
            INPUTS.map(({ id }) => [
              `in-${id}`,
              { name: `Input ${id}`, datatype: 'boolean', ...(format && { format }) },
            ]),
          ),
        },
        climate: { properties: { 'in-1': { datatype: 'float' } } },
      },
    });
  const found = (...told: readonly Message[]) => {
    const devices = new HomieDevices();
    for (const one of told) devices.take(one);
    return mappingOfHomie(
      devices.properties(),
      INPUTS.map(({ id }) => id),
    );
  };

  test('version 5: one description, its words say which value is open', () => {
    const told = found(message('homie/5/harbour-board/$description', five('closed,open'), true));
    expect(told).toMatchObject({
      isSure: true,
      mapping: { topic: 'homie/5/harbour-board/inputs/in-{input}', open: ['true'], closed: ['false'] },
    });
    expect(found(message('homie/5/harbour-board/$description', five('open,closed'), true))).toMatchObject({
      mapping: { open: ['false'] },
    });
    // Without words nobody can say which is open: then it is learned.
    expect(found(message('homie/5/harbour-board/$description', five(), true))).toMatchObject({
      isSure: false,
    });
  });

  test('version 4: an attribute a message', () => {
    const attributes = INPUTS.flatMap(({ id }) => [
      message(`homie/harbour-board/inputs/in-${id}/$datatype`, 'boolean', true),
      message(`homie/harbour-board/inputs/in-${id}/$format`, 'closed,open', true),
    ]);
    expect(found(...attributes)).toMatchObject({
      isSure: true,
      mapping: { topic: 'homie/harbour-board/inputs/in-{input}' },
    });
    expect(found(...attributes.slice(0, 2))).toBeNull();
  });

  test('descriptions that are none do no harm', () => {
    for (const text of [
      '',
      '{',
      '[]',
      'null',
      '{"nodes":7}',
      '{"nodes":{"a b":{"properties":{"x":{"datatype":"boolean"}}}}}',
    ])
      expect(found(message('homie/5/x/$description', text, true))).toBeNull();
  });
});
