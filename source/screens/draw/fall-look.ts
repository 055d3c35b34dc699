import type { Fall, FallCode } from '../../procedure/fall.ts';
import { sayFall } from '../../procedure/fall-words.ts';
import type { Tone } from './palette.ts';

/** How an answer fell, in a sign, a colour and words: never by colour alone. */
export type FallLook = {
  readonly sign: 'done' | 'dot' | 'other' | 'failed';
  readonly tone: Extract<Tone, 'good' | 'caution' | 'focus' | 'bad'>;
  readonly says: string;
};
type Look = Omit<FallLook, 'says'>;

const GOOD: Look = { sign: 'done', tone: 'good' };
/** No tick: nobody has said that it is right. */
const NOTED: Look = { sign: 'dot', tone: 'focus' };
const BESIDE: Look = { sign: 'other', tone: 'caution' };
const BAD: Look = { sign: 'failed', tone: 'bad' };

const LOOKS: Readonly<Record<FallCode, Look>> = {
  expected: GOOD,
  'expected-unjudged': GOOD,
  suits: GOOD,
  usable: BESIDE,
  odd: BESIDE,
  noted: NOTED,
  unusable: BAD,
  'expected-unusable': BAD,
  'beyond-stop': BAD,
  differs: BAD,
  live: BESIDE,
  clear: GOOD,
  met: BAD,
  induced: BESIDE,
  'short-count': BAD,
  chosen: GOOD,
  'chosen-against': BAD,
  written: GOOD,
  miscounted: BAD,
  seen: GOOD,
  'seen-otherwise': BAD,
};

/** How it looks, and what is said of it. */
export function lookOf(fall: Fall): FallLook {
  return { ...LOOKS[fall.is], says: sayFall(fall) };
}
