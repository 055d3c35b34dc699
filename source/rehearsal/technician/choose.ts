import type { ChoiceProof } from '../../procedure/step.ts';
import type { Visit } from './visit.ts';

/**
 * What a person on the spot answers where the card lets choose. What has no bearing on the wiring is answered as
 * one hopes it is: first what passes, then what opens a branch.
 */
export function choose(visit: Visit, step: string, proof: ChoiceProof): string {
  void visit;
  void step;
  const { options } = proof;
  const chosen =
    options.find(({ leads }) => leads === 'pass') ??
    options.find(({ leads }) => leads === 'branch') ??
    options[0];
  return chosen?.id ?? '';
}
