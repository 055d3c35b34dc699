import { card, seen } from '../../source/procedure/card.ts';
import type { Step } from '../../source/procedure/step.ts';
import type { AppEvent } from '../../source/screens/app/state.ts';
import type { HeardNow, LiveState } from '../../source/screens/live/state.ts';

/** Three detectors to be worked and restored, each on an input of its own. */
export const WALKED: readonly Step[] = ['shutter', 'side-door', 'loft'].map((detector, at) => {
  const where = { board: 'b1', input: `${at + 1}`, detector };
  return card('walk-test', {
    id: `walk.${detector}`,
    title: `Work ${detector} by itself and restore it`,
    why: 'It must report as its input, and nothing else with it.',
    hard: false,
    proof: [
      seen('worked', `${detector} worked: what the receiving side shows`, where, 'open'),
      seen('restored', `${detector} restored: what the receiving side shows`, where, 'closed'),
    ],
  });
});

export type Told = readonly [second: number, input: string, state: 'open' | 'closed'];
// Told in the time of wherever the test runs, for the screens show that.
const NOON = new Date(2026, 4, 4, 12, 0, 0).getTime();

const SETUP = {
  source: { kind: 'mqtt', url: 'mqtt://127.0.0.1:1883', username: null, passwordFile: null, caFile: null },
  boards: {
    b1: {
      topic: 'harbour/in-{input}',
      state: '',
      open: ['OPEN'],
      closed: ['CLOSED'],
      names: {},
      presence: null,
    },
  },
} as const;

/** What has been heard so far, as whoever listens hands it in. */
export function hears(
  told: readonly Told[],
  more: Partial<HeardNow> = {},
  news: Partial<LiveState> = {},
): AppEvent {
  const changes = told.map(([second, input, state], seq) => ({
    seq,
    board: 'b1',
    input,
    state,
    atMilliseconds: NOON + second * 1000,
    more: 0,
  }));
  const inputs = new Map(
    changes.map(({ input, state, atMilliseconds }) => [
      `b1/${input}`,
      { state, atMilliseconds, kept: false },
    ]),
  );
  const heard: HeardNow = {
    to: 'mqtt://127.0.0.1:1883',
    hears: true,
    says: null,
    isOver: false,
    inputs,
    changes,
    deaf: [],
    presence: [],
    messages: changes.length,
    unread: 0,
    seq: changes.length,
    nowMilliseconds: NOON + 1000 * Math.max(0, ...told.map(([second]) => second)),
    ...more,
  };
  return { type: 'live', news: { setup: SETUP, listening: true, heard, ...news } };
}

export const DEAF: Partial<HeardNow> = {
  hears: false,
  says: 'Nothing answers at 127.0.0.1:1883. Look whether the broker runs, and whether address and port are right.',
  deaf: [{ fromMilliseconds: NOON + 60_000, toMilliseconds: null, says: '' }],
};
