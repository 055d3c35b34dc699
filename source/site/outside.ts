import type { Sounder, Survey } from './survey.ts';

// What the look from outside tells, and what counts where it told nothing: decided here for the plan's words and the steps alike.

/** Whether somebody may be listening, and would send help: not knowing counts, unless the panel has no way to call anybody. */
export function mayBeMonitored({ monitored, signalling }: Survey['outside']): boolean {
  return monitored === 'yes' || (monitored === 'unknown' && signalling !== 'none');
}

/** Whether mains is or may be inside the enclosure: not knowing what feeds it counts, and only a plug rules it out. */
export function mayBeMainsFed({ feed }: Survey['outside']): boolean {
  return feed !== 'plug-in-transformer' && feed !== 'dc-adapter';
}

/** Whether a telephone line ends in the panel: `unknown` counts as one until every wire is known. */
export function telephoneLine({ outside, panel }: Survey): 'yes' | 'no' | 'unknown' {
  const hasScrews = panel.terminals.some(({ role }) => role === 'telephone');
  if (outside.signalling === 'telephone' || hasScrews) return 'yes';
  return outside.signalling === 'unknown' ? 'unknown' : 'no';
}

/** Whether a sounder sounds by itself when it is cut off: what nobody knows of it, the look from outside may have told. */
export function ownBattery({ ownBattery: own }: Sounder, { outside }: Survey): 'yes' | 'no' | 'unknown' {
  return own === 'unknown' ? outside.sounderBattery : own;
}

/** Whether a sounder with a battery of its own may hang on the panel that the survey does not name. */
export function maySoundUnnamed({ outside, sounders }: Survey): boolean {
  return sounders.length === 0 && outside.sounderBattery !== 'no';
}
