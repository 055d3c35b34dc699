import { describe, expect, test } from 'vitest';
import { sittingBreak } from '../../source/job/sitting.ts';

const MINUTE = 60_000;
const last = { wall: 1_000_000_000, uptime: 5_000_000, boot: 'b' };
const later = (milliseconds: number, change = {}) => ({
  wall: last.wall + milliseconds,
  uptime: last.uptime + milliseconds,
  boot: 'b',
  ...change,
});
const before = { sitting: 'act', person: 'p1', last, awayUntil: null } as const;
const POLICY_SECONDS = 900;

describe('a sitting', () => {
  test('goes on for the same person within the policy, to the second', () => {
    expect(sittingBreak(before, 'act', 'p1', later(15 * MINUTE), POLICY_SECONDS)).toBeNull();
    expect(sittingBreak(before, 'act', null, later(15 * MINUTE), POLICY_SECONDS)).toBeNull();
    expect(sittingBreak(before, 'act', 'p1', later(15 * MINUTE + 1), POLICY_SECONDS)).toEqual({
      why: 'gap',
      gapSeconds: 900,
    });
  });

  test.each([
    ['new-sitting', { ...before, sitting: 'screens' } as const, 'p1', later(MINUTE)],
    ['new-sitting', { ...before, sitting: 'none' } as const, 'p1', later(MINUTE)],
    ['person', before, 'p2', later(MINUTE)],
    ['boot', before, 'p1', later(MINUTE, { boot: 'c' })],
    ['clock', before, 'p1', later(MINUTE, { wall: last.wall + MINUTE + 2001 })],
    ['clock', before, 'p1', later(MINUTE, { wall: last.wall - 1 })],
    ['clock', before, 'p1', later(MINUTE, { uptime: last.uptime - 1, wall: last.wall - 1 })],
  ])('is broken by %s', (why, presence, by, now) => {
    expect(sittingBreak(presence, 'act', by, now, POLICY_SECONDS)?.why).toBe(why);
  });

  test('clocks may drift apart by two seconds', () => {
    const drifted = later(MINUTE, { wall: last.wall + MINUTE + 2000 });
    expect(sittingBreak(before, 'act', 'p1', drifted, POLICY_SECONDS)).toBeNull();
  });

  test('who said to be away may stay away so long, and no longer', () => {
    const away = { ...before, awayUntil: last.wall + 40 * MINUTE };
    expect(sittingBreak(away, 'act', 'p1', later(40 * MINUTE), POLICY_SECONDS)).toBeNull();
    expect(sittingBreak(away, 'act', 'p1', later(41 * MINUTE), POLICY_SECONDS)?.why).toBe('gap');
  });

  test('a clock set back never makes a gap of less than nothing', () => {
    const back = later(0, { wall: last.wall - MINUTE });
    expect(sittingBreak(before, 'act', 'p1', back, POLICY_SECONDS)).toEqual({ why: 'clock', gapSeconds: 0 });
  });
});
