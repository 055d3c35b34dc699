import type { Cause } from '../electrical/causes.ts';
import type { Plan } from '../plan/plan.ts';

type Facts = Pick<Plan, 'survey' | 'circuits' | 'supply'>;

/** What has to be on the site for a cause to be behind anything there. What nobody knows counts as being there. */
const NEEDS: Readonly<Partial<Record<Cause, (facts: Facts) => boolean>>> = {
  'ringing-voltage': hasTelephone,
  'battery-connected': ({ survey }) =>
    survey.panel.batteries.length > 0 || survey.supplies.some(({ battery }) => battery !== 'no'),
  'weak-battery': ({ survey, supply }) =>
    survey.panel.batteries.length > 0 || supply.some(({ battery }) => battery !== null),
  'sounder-feeds-back': ({ survey }) => survey.sounders.length > 0,
  'sounder-overload': ({ survey }) => survey.sounders.length > 0,
  'relay-unpowered': hasPowered,
  'under-voltage': hasPowered,
  'aux-reversed': hasPowered,
  'resistor-missing': hasResistor,
  'resistor-value-differs': hasResistor,
  'joined-other-way': ({ survey }) => survey.zones.some(({ detectors }) => detectors.length > 1),
  'other-pair': ({ survey }) => survey.zones.length + survey.tampers.length > 1,
};

function hasTelephone({ survey }: Facts): boolean {
  const { signalling } = survey.outside;
  return (
    signalling === 'telephone' ||
    signalling === 'unknown' ||
    survey.panel.terminals.some(({ role }) => role === 'telephone') ||
    survey.cables.some(({ cores }) => cores.some(({ use }) => use === 'telephone'))
  );
}

function hasPowered({ survey }: Facts): boolean {
  return survey.detectors.some(({ supply }) => supply !== null);
}

function hasResistor({ survey, circuits }: Facts): boolean {
  return (
    circuits.some(({ resistor }) => resistor.newOhms !== null) ||
    [...survey.zones, ...survey.tampers].some(
      ({ loop }) => loop.resistorOhms !== null || loop.alarmResistorOhms !== null,
    )
  );
}

/**
 * Usual causes without those that the survey rules out. The likeliest of all stays: where a reading points to it first,
 * it is the survey that may be wrong, and a second telephone line or a hidden battery can hurt.
 */
export function withoutRuledOut(causes: readonly Cause[], facts: Facts): Cause[] {
  return causes.filter((cause, at) => at === 0 || isLeftOpen(cause, facts));
}

/** Whether the survey leaves room for a cause. */
export function isLeftOpen(cause: Cause, facts: Facts): boolean {
  return NEEDS[cause]?.(facts) ?? true;
}
