import { describe, expect, test } from 'vitest';
import { type Mapping, readMapping } from '../../source/live/mapping.ts';
import { isTopicName, type Message, textOf } from '../../source/live/message.ts';
import { readStatePath } from '../../source/live/state-path.ts';
import { readPattern } from '../../source/live/topic.ts';

const message = (topic: string, payload: string | Uint8Array, kept = false): Message => ({
  topic,
  payload: typeof payload === 'string' ? Buffer.from(payload) : payload,
  atMilliseconds: 1,
  kept,
});
const plain: Mapping = {
  topic: 'harbour/inputs/in-{input}/state',
  state: '',
  open: ['OPEN'],
  closed: ['CLOSED'],
  names: {},
  presence: null,
};
const told = async (mapping: Partial<Mapping>, one: Message, inputs = ['1', '2', '12']) => {
  const reader = await readMapping({ ...plain, ...mapping }, inputs);
  if (typeof reader === 'string') throw new Error(reader);
  return reader.read(one);
};

describe('a topic pattern', () => {
  test('takes the name of the input from its place, and subscribes to the whole level', () => {
    const pattern = readPattern('harbour/inputs/in-{input}/state');
    if (typeof pattern === 'string') throw new Error(pattern);
    expect(pattern.filter).toBe('harbour/inputs/+/state');
    expect(pattern.match('harbour/inputs/in-12/state')).toBe('12');
    expect(pattern.match('harbour/inputs/12/state')).toBeNull();
    expect(pattern.match('harbour/inputs/in-1/more/state')).toBeNull();
  });

  // OASIS MQTT 5.0, 4.7.1.2 and 4.7.1.3, with the examples that stand there.
  test.each([
    ['sport/tennis/player1/#', 'sport/tennis/player1', true],
    ['sport/tennis/player1/#', 'sport/tennis/player1/ranking', true],
    ['sport/tennis/player1/#', 'sport/tennis/player1/score/wimbledon', true],
    ['sport/#', 'sport', true],
    ['sport/tennis/+', 'sport/tennis/player1', true],
    ['sport/tennis/+', 'sport/tennis/player1/ranking', false],
    ['sport/+', 'sport', false],
    ['sport/+', 'sport/', true],
    ['+/+', '/finance', true],
    ['+', '/finance', false],
  ])('%s and the topic %s: %s', (filter, topic, isMatch) => {
    const pattern = readPattern(filter);
    if (typeof pattern === 'string') throw new Error(pattern);
    expect(pattern.filter).toBe(filter);
    expect(pattern.match(topic) !== null).toBe(isMatch);
  });

  test.each([
    ['sport+', /takes a whole level/],
    ['sport/tennis#', /comes last and alone/],
    ['sport/tennis/#/ranking', /comes last and alone/],
    ['', /is empty/],
    ['{input}/{input}', /2 times/],
    ['a\u0000b', /no topic may/],
  ])('%j is refused in words', (pattern, says) => {
    expect(readPattern(pattern)).toMatch(says);
  });

  test('signs of regular expressions stand for themselves', async () => {
    expect(await told({ topic: 'a.b/(x)/{input}' }, message('a.b/(x)/1', 'open'))).toHaveLength(1);
    expect(await told({ topic: 'a.b/(x)/{input}' }, message('acb/(x)/1', 'open'))).toEqual([]);
  });
});

describe('a mapping', () => {
  test('reads whole payloads in any case of letters', async () => {
    expect(await told({}, message('harbour/inputs/in-2/state', ' open\n'))).toEqual([
      { is: 'input', input: '2', state: 'open' },
    ]);
  });

  test('takes the input of just this name: 12 is not 1', async () => {
    expect(await told({}, message('harbour/inputs/in-12/state', 'CLOSED'))).toEqual([
      { is: 'input', input: '12', state: 'closed' },
    ]);
  });

  test('an input that the board has not, and a text that means nothing, tell nothing', async () => {
    expect(await told({}, message('harbour/inputs/in-7/state', 'OPEN'))).toEqual([
      { is: 'unread', why: 'input' },
    ]);
    expect(await told({}, message('harbour/inputs/in-1/state', 'AJAR'))).toEqual([
      { is: 'unread', why: 'state' },
    ]);
  });

  test('one message for all inputs: by a query with the name in it', async () => {
    const all = {
      topic: 'harbour/all',
      state: "$.inputs['in{input}'].contact",
      open: ['true'],
      closed: ['false'],
    };
    const payload = '{"inputs":{"in1":{"contact":true},"in12":{"contact":false}}}';
    expect(await told(all, message('harbour/all', payload))).toEqual([
      { is: 'input', input: '1', state: 'open' },
      { is: 'input', input: '12', state: 'closed' },
    ]);
  });

  test('a presence that is said, or the last will of the board', async () => {
    const presence = { topic: 'harbour/line', here: ['up'], gone: ['down'] };
    expect(await told({ presence }, message('harbour/line', 'down'))).toEqual([
      { is: 'presence', here: false },
    ]);
    expect(await told({ presence }, message('harbour/line', 'up'))).toEqual([{ is: 'presence', here: true }]);
  });

  test.each([
    [{ topic: 'harbour/all' }, /Neither the topic nor the path/],
    [{ open: [' '] }, /is not said/],
    [{ open: ['ON'], closed: ['on'] }, /is to mean open and closed/],
    [{ state: '$.a[' }, /no JSONPath of RFC 9535/],
    [{ state: '$[?nonsense(@)]' }, /no JSONPath of RFC 9535/],
  ])('%j is refused in words', async (wrong, says) => {
    expect(await readMapping({ ...plain, ...wrong }, ['1'])).toMatch(says);
  });
});

// RFC 9535 (Gössner, Normington, Bormann, 2024), the examples of figure 1 and section 2.3.5.3.
describe('a query is one of RFC 9535', () => {
  const STORE =
    '{"store":{"book":[{"title":"A","price":8.95},{"title":"B","price":12.99,"isbn":"0-553"}],"bicycle":{"color":"red","price":399}}}';
  test.each([
    ['$.store.bicycle.color', 'red'],
    ["$['store']['bicycle']['price']", '399'],
    ['$.store.book[-1].title', 'B'],
    ['$..book[?@.isbn].title', 'B'],
    ['$..book[?@.price<10].title', 'A'],
    // More than one value is none.
    ['$..book[*].title', null],
    ['$.store.book', null],
    ['$.nothing', null],
  ])('%s', async (path, found) => {
    const reader = await readStatePath(path);
    if (typeof reader === 'string') throw new Error(reader);
    expect(reader(Buffer.from(STORE), '1')).toBe(found);
  });

  test('a name that comes from outside never becomes part of the query', async () => {
    const reader = await readStatePath("$['{input}']");
    if (typeof reader === 'string') throw new Error(reader);
    expect(reader(Buffer.from('{"1":"x"}'), "1']['2")).toBeNull();
    expect(reader(Buffer.from('{"1":"x"}'), '1')).toBe('x');
  });

  test('payloads that are no JSON, too deep or too long tell nothing', async () => {
    const reader = await readStatePath('$..state');
    if (typeof reader === 'string') throw new Error(reader);
    for (const payload of [
      '{',
      '['.repeat(30_000),
      `${'['.repeat(20_000)}${']'.repeat(20_000)}`,
      '"'.repeat(70_000),
    ])
      expect(reader(Buffer.from(payload), '1')).toBeNull();
  });
});

describe('what may come from outside', () => {
  test('no UTF-8, or longer than a state can be, is no text', () => {
    expect(textOf(Buffer.from([0x4f, 0xff, 0xfe]))).toBeNull();
    expect(textOf(Buffer.alloc(10_000_000, 0x41))).toBeNull();
    expect(textOf(Buffer.from('OPEN'))).toBe('OPEN');
  });

  test('a topic with wildcards, control characters or escapes is none', () => {
    for (const topic of ['a/+/b', 'a/#', 'a\u0000b', 'a\u001b[2Jb', 'a\u202eb', '', 'x'.repeat(2000)])
      expect(isTopicName(topic), JSON.stringify(topic)).toBe(false);
    expect(isTopicName('harbour/inputs/in-1/state')).toBe(true);
  });
});
