import type { Step } from './step.ts';

/**
 * What a card is about, as far as that tells what can be behind an answer of it. Ids are this room's own, and those of
 * a job stand in its record for good: so they are read here and nowhere else, by whole parts, for the part after the
 * head is an id of the survey and may be any word.
 */
export const TOPICS = {
  'prepare.adapter': 'adapter-on-bench',
  'power.adapter': 'adapter',
  'prepare.inputs': 'inputs-on-bench',
  'survey.baseline': 'baseline',
  'isolate.telephone': 'telephone',
  'clear.telephone': 'telephone',
  'isolate.battery': 'old-battery',
  'power.battery': 'new-battery',
  'supply.prove': 'proof-of-dead',
  'supply.prove-short': 'proof-of-dead',
  measure: 'loop',
  resistors: 'resistor',
  split: 'join',
  rewire: 'landing',
  'cold.look': 'look-over',
  'cold.aux': 'cold',
  'cold.voltage': 'cold',
  'power.supply': 'supply-at-detectors',
  'walk.sounder': 'sounder',
  'walk.mains-failure': 'mains-failure',
} as const;

export type Topic = (typeof TOPICS)[keyof typeof TOPICS];

/**
 * The topic of a card; null where no answer of it has usual causes of its own.
 *
 * @example topicOf({ id: 'prepare.adapter.b1' }) // => 'adapter-on-bench'
 */
export function topicOf({ id }: Pick<Step, 'id'>): Topic | null {
  const heads = Object.entries(TOPICS).filter(([head]) => id === head || id.startsWith(`${head}.`));
  return heads.sort(([a], [b]) => b.length - a.length)[0]?.[1] ?? null;
}
