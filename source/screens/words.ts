import type { StepStatus } from '../procedure/state.ts';
import type { Stage, SupplyState } from '../procedure/step.ts';
import type { Glyphs } from './draw/glyphs.ts';
import type { Tone } from './draw/palette.ts';

export const STAGE_WORDS: Readonly<Record<Stage, string>> = {
  survey: 'Survey',
  plan: 'Plan',
  prepare: 'Prepare the board',
  notify: 'Tell people',
  'power-down': 'Power down',
  label: 'Label',
  measure: 'Measure and lift',
  resistors: 'Resistors',
  split: 'Split joins',
  clear: 'Clear the old',
  mount: 'Mount',
  rewire: 'Rewire',
  'power-up': 'Check and power up',
  'walk-test': 'Walk test',
  handover: 'Hand over',
};

/** The supply state in words: it is never told by colour alone. */
export const SUPPLY_WORDS: Readonly<Record<SupplyState, { says: string; short: string; tone: Tone }>> = {
  live: { says: 'OLD SYSTEM LIVE', short: 'LIVE', tone: 'live' },
  isolating: { says: 'BEING ISOLATED', short: 'ISOLATING', tone: 'unproven' },
  dead: { says: 'DEAD, PROVED', short: 'DEAD', tone: 'dead' },
  unproven: { says: 'NOT PROVED DEAD', short: 'NOT PROVED DEAD', tone: 'unproven' },
  energised: { says: 'NEW BOARD ENERGISED', short: 'ENERGISED', tone: 'energised' },
};

export const STATUS_WORDS: Readonly<
  Record<StepStatus, { says: string; sign: keyof Glyphs; tone: Tone | null }>
> = {
  open: { says: 'open', sign: 'open', tone: null },
  begun: { says: 'begun', sign: 'pointer', tone: 'focus' },
  done: { says: 'done', sign: 'done', tone: 'good' },
  failed: { says: 'failed', sign: 'failed', tone: 'bad' },
  deviated: { says: 'deviated from', sign: 'other', tone: 'caution' },
  excluded: { says: 'does not apply', sign: 'locked', tone: 'quiet' },
  unknown: { says: 'half done or not, unknown', sign: 'doubt', tone: 'unproven' },
};

export const NEED_WORDS: Readonly<Record<'isolating' | 'dead' | 'energised', string>> = {
  isolating: 'while the system is being isolated',
  dead: 'only while everything is proved dead',
  energised: 'only with the new board energised',
};
