import { describe, expect, test } from 'vitest';
import { challengeTo, looksLikeCode } from '../../source/job/challenge.ts';
import type { Step } from '../../source/procedure/step.ts';

describe('what looks like a code', () => {
  test.each([
    'the code is 4711',
    'keypad code 12 345',
    'PIN 471',
    'passcode:12345',
    'installer code 080808',
    '1234',
    'told her 48213 and left',
    'alarm code 9999.',
  ])('%s', (text) => {
    expect(looksLikeCode(text)).toBe(true);
  });

  test.each([
    'installed 2019, replaced 2024',
    '7000 mAh battery',
    '10 000 ohm fitted',
    '2200 ohm, 4700 ohms, 1000 V, 1500 mm',
    'rain from 10:00 to 12:30',
    'on 2026-05-04 at 10.30',
    'call +4912345678901',
    'zone 3 reads 2.2 kohm',
    'two doors, 18 m of cable',
    '13.75 V at the far end',
    'code changed by the owner',
  ])('not: %s', (text) => {
    expect(looksLikeCode(text)).toBe(false);
  });
});

const step = (effect: Step['effect'], numeric = false): Step => ({
  id: 's',
  stage: 'power-down',
  title: '',
  why: '',
  cautions: [],
  acts: [],
  needs: 'any',
  waitsFor: [],
  proof: [{ field: 'tag', kind: 'text', label: '', minLength: 1, offers: [], numeric }],
  hard: true,
  repeatable: false,
  effect,
  onlyIf: [],
  about: [],
});

describe('challenges', () => {
  test('a note that holds a code is challenged, and passes once it is said to be none', () => {
    const note = { do: 'note', text: 'left 4711 on the shelf' } as const;
    expect(challengeTo(note, null, null)?.name).toBe('looks-like-a-code');
    expect(challengeTo({ ...note, acknowledge: ['looks-like-a-code'] }, null, null)).toBeNull();
  });

  test('a card that asks for a number takes one, unless words give a code away', () => {
    const confirm = (tag: string) => ({ do: 'confirm', step: 's', values: { tag } }) as const;
    expect(challengeTo(confirm('47110'), step(null, true), null)).toBeNull();
    expect(challengeTo(confirm('47110'), step(null, false), null)?.name).toBe('looks-like-a-code');
    expect(challengeTo(confirm('pin 4711'), step(null, true), null)?.name).toBe('looks-like-a-code');
  });

  test('a proof of dead that comes sooner than its points can be touched is challenged, by the points there are', () => {
    const values = { dc: { greatest: '0', at: 'c1/1', points: 24 } };
    const confirm = { do: 'confirm', step: 's', values } as const;
    const points = Array.from({ length: 24 }, (_, at) => `c1/${at}`);
    const swept = (effect: Step['effect']): Step => ({
      ...step(effect),
      proof: [
        { field: 'dc', kind: 'sweep', of: 'volts-dc', unit: 'V', label: '', min: 0, max: 0.5, points },
        { field: 'ac', kind: 'sweep', of: 'volts-ac', unit: 'V', label: '', min: 0, max: 0.5, points },
      ],
    });
    const met = challengeTo(confirm, swept('prove'), 47);
    expect(met?.name).toBe('typed-too-soon');
    expect(met?.says).toMatch(/^24 points, on DC and on AC, .* within 47 s/);
    expect(challengeTo(confirm, swept('prove'), 48)).toBeNull();
    expect(challengeTo(confirm, swept('prove'), null)).toBeNull();
    expect(challengeTo(confirm, swept(null), 0)).toBeNull();
    expect(challengeTo({ ...confirm, acknowledge: ['typed-too-soon'] }, swept('prove-short'), 0)).toBeNull();
  });

  test('leads above an ohm are asked about before a shift starts with them, and pass once they are said to be so', () => {
    const start = (zero?: string) =>
      ({ do: 'start-shift', name: 'Ada', instrument: 'meter 3', ...(zero && { zero }) }) as const;
    expect(challengeTo(start('25'), null, null)?.name).toBe('leads-not-zero');
    expect(challengeTo(start('OL'), null, null)?.name).toBe('leads-not-zero');
    expect(challengeTo(start('25'), null, null)?.says).toMatch(
      /[Cc]lean or replace.*take it off each figure yourself/,
    );
    expect(challengeTo({ ...start('25'), acknowledge: ['leads-not-zero'] }, null, null)).toBeNull();
    for (const fine of ['0.3', '1', undefined]) expect(challengeTo(start(fine), null, null)).toBeNull();
  });
});
