import { describe, expect, test } from 'vitest';
import type { HeardChange, Hearing } from '../../source/job/hearing/hearing.ts';
import { proposeHeard } from '../../source/job/hearing/propose-heard.ts';
import { CHATTER_TIMES, pulsesOf } from '../../source/job/hearing/pulses.ts';
import { sayHeard } from '../../source/job/hearing/say-heard.ts';
import { tourOf, tourStops } from '../../source/job/hearing/tour.ts';
import { seen } from '../../source/procedure/card.ts';

type Told = readonly [seconds: number, input: string, state: 'open' | 'closed', more?: number];
function hearing(told: readonly Told[], more: Partial<Hearing> = {}): Hearing {
  const changes = told.map(
    ([seconds, input, state, often = 0], seq): HeardChange => ({
      seq,
      board: 'b1',
      input,
      state,
      atMilliseconds: seconds * 1000,
      more: often,
    }),
  );
  const inputs = new Map(
    changes.map(({ input, state, atMilliseconds }) => [
      `b1/${input}`,
      { state, atMilliseconds, kept: false },
    ]),
  );
  const nowMilliseconds = 1000 * Math.max(0, ...told.map(([seconds]) => seconds)) + 1000;
  return { hears: true, nowMilliseconds, inputs, changes, deaf: [], seq: changes.length, ...more };
}
const at = (input: string) => ({ board: 'b1', input, detector: `d${input}` });
const both = (input: string) => [
  seen('worked', '', at(input), 'open'),
  seen('restored', '', at(input), 'closed'),
];
const START = { seq: 0, atMilliseconds: 0 };
const answers = (proofs: Parameters<typeof proposeHeard>[0], heard: Hearing, since = START) =>
  Object.fromEntries([...proposeHeard(proofs, heard, since)].map(([field, { answer }]) => [field, answer]));

describe('what is heard answers a card', () => {
  test('worked and restored, one after the other', () => {
    expect(answers(both('3'), hearing([]))).toEqual({ worked: null, restored: null });
    expect(answers(both('3'), hearing([[1, '3', 'open']]))).toEqual({ worked: 'open', restored: null });
    expect(
      answers(
        both('3'),
        hearing([
          [1, '3', 'open'],
          [4, '3', 'closed'],
        ]),
      ),
    ).toEqual({ worked: 'open', restored: 'closed' });
    // Restored is what follows: that it closed before it was worked restores nothing.
    expect(
      answers(
        both('3'),
        hearing([
          [1, '3', 'closed'],
          [4, '3', 'open'],
        ]),
      ),
    ).toEqual({ worked: 'open', restored: null });
  });

  test('what was heard before the card was opened answers nothing', () => {
    const heard = hearing([
      [1, '3', 'open'],
      [4, '3', 'closed'],
    ]);
    expect(answers(both('3'), heard, { seq: 2, atMilliseconds: 5000 })).toEqual({
      worked: null,
      restored: null,
    });
  });

  test('a jumper that was put on and taken off again answers with the moment it was on', () => {
    const proofs = [seen('input-1', '', at('1'), 'closed'), seen('input-2', '', at('2'), 'closed')];
    const heard = hearing([
      [0, '1', 'open'],
      [1, '1', 'closed'],
      [5, '1', 'open'],
      [7, '2', 'closed'],
    ]);
    expect(answers(proofs, heard)).toEqual({ 'input-1': 'closed', 'input-2': 'closed' });
  });

  test('at rest it is how it stands now: a door that has been opened since does not stand at rest', () => {
    const proof = [seen('rest', '', at('1'), 'closed')];
    expect(answers(proof, hearing([[0, '1', 'closed']]), { seq: 1, atMilliseconds: 1 })).toEqual({
      rest: 'closed',
    });
    const opened = hearing([
      [0, '1', 'closed'],
      [9, '1', 'open'],
    ]);
    expect(answers(proof, opened, { seq: 1, atMilliseconds: 1 })).toEqual({ rest: 'open' });
  });

  test('what the broker kept answers nothing', () => {
    const inputs = new Map([['b1/1', { state: 'closed', atMilliseconds: 0, kept: true } as const]]);
    expect(answers([seen('rest', '', at('1'), 'closed')], hearing([], { inputs }))).toEqual({ rest: null });
  });

  test('others that moved with it, or instead of it, and how long it was deaf, stand beside it', () => {
    const swapped = proposeHeard(
      both('3'),
      hearing([
        [2, '5', 'open'],
        [6, '5', 'closed'],
      ]),
      START,
    );
    expect(swapped.get('worked')?.heard).toEqual({
      state: 'nothing',
      at: null,
      others: ['b1/5'],
      changes: 0,
      deafSeconds: 0,
    });
    const deaf = [
      { fromMilliseconds: 3000, toMilliseconds: 4500 },
      { fromMilliseconds: 9000, toMilliseconds: null },
    ];
    const joined = proposeHeard(
      both('3'),
      hearing(
        [
          [2, '3', 'open'],
          [2.4, '5', 'open'],
          [9, '7', 'open'],
        ],
        { deaf },
      ),
      START,
    );
    const { heard } = joined.get('worked')!;
    expect(heard).toEqual({
      state: 'open',
      at: '1970-01-01T00:00:02.000Z',
      others: ['b1/5'],
      changes: 1,
      deafSeconds: 3,
    });
    expect(sayHeard(heard, (moment) => moment.slice(11, 19))).toBe(
      'heard open at 00:00:02; b1/5 moved with it; deaf for 3 s meanwhile',
    );
  });
});

describe('pulses', () => {
  const rest = () => 'closed' as const;
  test('one that comes back at once is the same; so often is chatter', () => {
    const chatter: Told[] = Array.from({ length: 8 }, (_, n) => [n * 0.2, '1', n % 2 ? 'closed' : 'open']);
    const [only, ...more] = pulsesOf(hearing(chatter).changes, rest);
    expect(more).toEqual([]);
    expect(only?.times).toBe(4);
    expect(only?.times).toBeGreaterThanOrEqual(CHATTER_TIMES);
  });

  // MQTT 5.0, 4.6: messages 1,2,3,4 may be received as 1,2,3,2,3,4.
  test('a series that was sent again from some point is no chatter', () => {
    const again: Told[] = [
      [1, '1', 'open'],
      [1.1, '1', 'closed'],
      [1.2, '1', 'open'],
      [1.3, '1', 'closed'],
    ];
    expect(pulsesOf(hearing(again).changes, rest).map(({ times }) => times)).toEqual([2]);
    expect(2).toBeLessThan(CHATTER_TIMES);
  });

  test('what came too fast to be logged counts', () => {
    expect(pulsesOf(hearing([[1, '1', 'open', 30]]).changes, rest)[0]?.times).toBeGreaterThan(10);
  });
});

describe('a tour in the order of its stops', () => {
  const stops = tourStops(
    ['1', '2', '3', '4', '5'].map((input) => ({ id: `walk.d${input}`, proof: both(input) })),
  );
  const walked = (...inputs: string[]): Told[] =>
    inputs.flatMap((input, n): Told[] => [
      [n * 10, input, 'open'],
      [n * 10 + 3, input, 'closed'],
    ]);
  const states = (told: readonly Told[]) => tourOf(stops, hearing(told), 0).map((state) => state.is);

  test('each is ticked when its turn has come', () => {
    expect(states(walked('1', '2', '3', '4', '5'))).toEqual(Array(5).fill('heard'));
  });

  test('exchanged landings are named, and neither is ticked', () => {
    const found = tourOf(stops, hearing(walked('1', '4', '3', '2', '5')), 0);
    expect(found.map((state) => state.is)).toEqual(['heard', 'exchanged', 'heard', 'exchanged', 'heard']);
    expect(found[1]).toMatchObject({ with: 3 });
    expect(states(walked('2', '1', '3', '4', '5'))).toEqual([
      'exchanged',
      'exchanged',
      'heard',
      'heard',
      'heard',
    ]);
  });

  test('one that was passed over is left, the next is not ticked by itself, and those that follow are', () => {
    expect(states(walked('1', '3', '4', '5'))).toEqual(['heard', 'waiting', 'out-of-turn', 'heard', 'heard']);
  });

  test('one that stays silent is left waiting, or told by what was heard instead', () => {
    expect(states(walked('1', '2'))).toEqual(['heard', 'heard', 'waiting', 'waiting', 'waiting']);
  });

  test('one that never restores, two at once, and chatter are no ticks', () => {
    expect(states([[1, '1', 'open']])).toEqual(['worked', 'waiting', 'waiting', 'waiting', 'waiting']);
    expect(
      states([
        [1, '1', 'open'],
        [1.1, '4', 'open'],
        [3, '1', 'closed'],
        [3.1, '4', 'closed'],
      ])[0],
    ).toBe('together');
    const chatter: Told[] = Array.from({ length: 8 }, (_, n) => [n * 0.2, '1', n % 2 ? 'closed' : 'open']);
    expect(states(chatter)[0]).toBe('chatters');
  });

  test('a movement detector that is walked before reports again and again, and takes no turn from the next', () => {
    const again: Told[] = [
      [1, '1', 'open'],
      [4, '1', 'closed'],
      [6, '1', 'open'],
      [9, '1', 'closed'],
      [30, '2', 'open'],
      [33, '2', 'closed'],
    ];
    expect(states(again).slice(0, 3)).toEqual(['heard', 'heard', 'waiting']);
  });

  test('two detectors of one input are two stops', () => {
    const shared = tourStops(['1', '1', '2'].map((input, n) => ({ id: `walk.${n}`, proof: both(input) })));
    const found = tourOf(shared, hearing(walked('1', '1', '2')), 0);
    expect(found.map((state) => state.is)).toEqual(['heard', 'heard', 'heard']);
  });
});
