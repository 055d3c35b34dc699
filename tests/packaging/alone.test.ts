import { describe, expect, test } from 'vitest';
import { ALONE } from '../../.config/bundle.mjs';
import { Chance } from '../chance.ts';

const UNITS = Array.from({ length: 0x10000 }, (_, unit) => String.fromCharCode(unit));
const SEED = 41;
/** Of a later edition of the language than this project's sources. */
const SEQUENCES = '^\\p{RGI_Emoji}$';

// The reference is Unicode as ICU in Node has it: UAX #29 for clusters, UTS #51 for emoji.
describe('what the bundle spares the tables of all writing', () => {
  test('a text of signs that stand alone is cut at each of them', () => {
    const alone = UNITS.filter((unit) => ALONE.test(unit));
    expect(alone.length).toBeGreaterThan(500);
    const chance = new Chance(SEED);
    const segmenter = new Intl.Segmenter(undefined, { granularity: 'grapheme' });
    for (let round = 0; round < 200; round++) {
      const text = Array.from({ length: 60 }, () => chance.pick(...alone)).join('');
      const cut = Array.from(segmenter.segment(text), ({ segment }) => segment);
      expect(cut, `seed ${SEED}, round ${round}`).toEqual([...text]);
    }
    const each = alone.join('');
    expect(Array.from(segmenter.segment(each))).toHaveLength(alone.length);
  });

  test('of single units the short table of emoji tells what the long one does', () => {
    const short = /^\p{Emoji_Presentation}$/u;
    const long = new RegExp(SEQUENCES, 'v');
    expect(UNITS.filter((unit) => short.test(unit))).not.toEqual([]);
    const differing = UNITS.filter((unit) => short.test(unit) !== long.test(unit));
    expect(differing).toEqual([]);
  });
});
