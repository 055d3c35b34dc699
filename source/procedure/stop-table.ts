/**
 * How far an answer stops the work. `all`: nothing goes on anywhere but making safe, notes and corrections. `step`: what
 * waits for its step stays shut, and the step cannot be given up. Both last until they are answered, whoever is there,
 * whatever is reopened, corrected or typed next.
 */
export type StopReach = 'all' | 'step';

type Stop = {
  readonly reach: StopReach;
  /** The step that opens the way again; null where that is the step that was answered, done again and passed. */
  readonly opener: string | null;
  /** What is so. */
  readonly says: string;
  /** What opens the way again, and by whom. */
  readonly way: string;
};

/** Every reason for which the work stops: the one table that gates, screens, `next` and documents read. */
export const STOPS = {
  voltage: {
    reach: 'all',
    opener: 'stop.voltage',
    says: 'A voltage was met with which nothing here works.',
    way: 'Hands off until a licensed electrician has found where it comes from and made it safe; then put on record who that was, and what it was.',
  },
  bond: {
    reach: 'all',
    opener: 'stop.bond',
    says: 'The protective conductor of the enclosure came off.',
    way: 'A licensed electrician puts it back and tests it; then put on record who that was.',
  },
  'not-allowed': {
    reach: 'all',
    opener: null,
    says: 'Whoever answered may not do this work here, or does not know it.',
    way: 'Somebody who may, and says so on that card, opens it again.',
  },
  unwatched: {
    reach: 'step',
    opener: null,
    says: 'People here would be without protection.',
    way: 'That card opens once somebody or something else watches over them.',
  },
  'not-on-test': {
    reach: 'step',
    opener: null,
    says: 'The receiving centre has not taken the site on test, or still has it on test.',
    way: 'Have somebody call whom the operator knows, and do that card again.',
  },
  loud: {
    reach: 'step',
    opener: null,
    says: 'A sounder sounds, or would, and nothing holds it off.',
    way: 'Keep it quiet first, and do that card again.',
  },
  mains: {
    reach: 'step',
    opener: null,
    says: 'Mains is there, or may be.',
    way: 'A licensed electrician isolates it, proves it dead and signs on that card.',
  },
  'feed-live': {
    reach: 'step',
    opener: null,
    says: 'Something keeps the wiring live.',
    way: 'Have it switched off, or correct the survey by what is there, and do that card again.',
  },
  'power-harms': {
    reach: 'step',
    opener: null,
    says: 'Something would be shorted, or meet the wrong power.',
    way: 'Put it right, look again, and do that card again.',
  },
  'not-signed': {
    reach: 'step',
    opener: null,
    says: 'The owner has not taken it over.',
    way: 'Settle with the owner what is not accepted, and do that card again.',
  },
} as const satisfies Readonly<Record<string, Stop>>;

export type StopCode = keyof typeof STOPS;
