import type { Expression } from '../../electrical/loop.ts';
import type { Detector, Survey } from '../../site/survey.ts';
import { conductorOf, contactOf, resistorOf } from '../../wiring/elements.ts';
import type { FittedContact, FittedResistor, WiredConductor } from '../../wiring/wiring.ts';

/** What each thing of the wiring is to a meter. */
export type Elements = {
  readonly conductor: (conductor: WiredConductor) => Expression;
  readonly contact: (contact: FittedContact) => Expression;
  readonly resistor: (resistor: FittedResistor) => Expression;
  readonly detectorById: ReadonlyMap<string, Detector>;
};

/** What conductors, contacts and resistors of a survey are worth in a loop, as expressions. */
export function readElements(survey: Survey): Elements {
  return {
    detectorById: new Map(survey.detectors.map((detector) => [detector.id, detector])),
    conductor: conductorOf,
    contact: contactOf,
    resistor: ({ ohms }) => resistorOf(ohms),
  };
}
