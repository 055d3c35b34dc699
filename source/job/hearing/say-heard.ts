import type { HeardAnswer } from './hearing.ts';
import { CHATTER_TIMES } from './pulses.ts';

/** What is odd about what was heard for an answer; null where nothing is. */
export type HeardSign = 'elsewhere' | 'together' | 'chatter';

/** What is odd about what was heard: silence where others moved, others with it, or far too many changes. */
export function signOf(heard: HeardAnswer | undefined): HeardSign | null {
  if (heard === undefined) return null;
  if (heard.changes >= 2 * CHATTER_TIMES) return 'chatter';
  if (heard.others.length === 0) return null;
  return heard.state === 'nothing' ? 'elsewhere' : 'together';
}

/**
 * What was heard for an answer, in words.
 *
 * @param when how a moment is said
 * @example sayHeard({ state: 'open', at: '...', others: ['b1/5'], changes: 1, deafSeconds: 0 }, () => '10:03')
 *   // => 'heard open at 10:03; b1/5 moved with it'
 */
export function sayHeard(heard: HeardAnswer, when: (at: string) => string): string {
  const { state, at, others, changes, deafSeconds } = heard;
  const them = others.join(', ');
  const moved =
    others.length === 0 ? '' : state === 'nothing' ? `; ${them} moved instead` : `; ${them} moved with it`;
  const first = state === 'nothing' || at === null ? 'nothing heard' : `heard ${state} at ${when(at)}`;
  const often = changes >= 2 * CHATTER_TIMES ? `; ${changes} changes: it chatters` : '';
  const deaf = deafSeconds > 0 ? `; deaf for ${deafSeconds} s meanwhile` : '';
  return `${first}${moved}${often}${deaf}`;
}
