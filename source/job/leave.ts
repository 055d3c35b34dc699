import type { ChoiceProof, Proof, TextProof } from '../procedure/step.ts';

const choice = (field: string, label: string, ...options: ChoiceProof['options']): ChoiceProof => ({
  field,
  kind: 'choice',
  label,
  options,
});
const text = (field: string, label: string, offers: readonly string[]): TextProof => ({
  field,
  kind: 'text',
  label,
  minLength: 2,
  offers,
  numeric: false,
});

/**
 * What is said when the work is left for the night. Whoever must leave may leave: what is not said, or not well,
 * stays a warning until somebody comes back.
 */
export const LEAVING: readonly Proof[] = [
  choice(
    'ends',
    'Loose conductor ends',
    { id: 'insulated', label: 'Every one insulated', leads: 'pass' },
    { id: 'none', label: 'There are none', leads: 'pass' },
    { id: 'bare', label: 'Some are bare, or not sure', leads: 'fail' },
  ),
  choice(
    'battery',
    'Battery terminals and leads',
    { id: 'covered', label: 'Covered', leads: 'pass' },
    { id: 'none', label: 'There is no battery here', leads: 'pass' },
    { id: 'open', label: 'Not covered, or not sure', leads: 'fail' },
  ),
  choice(
    'centre',
    'Receiving centre',
    { id: 'extended', label: 'Its test time is extended', leads: 'pass' },
    { id: 'none', label: 'There is none', leads: 'pass' },
    { id: 'not-reached', label: 'Not reached, or not sure', leads: 'fail' },
  ),
  choice(
    'sounder',
    'Sounder',
    { id: 'silent', label: 'Made safe: it cannot sound by itself', leads: 'pass' },
    { id: 'in-service', label: 'In service', leads: 'pass' },
    { id: 'may-sound', label: 'It may sound, or not sure', leads: 'fail' },
  ),
  text('told', 'Who was told which openings are unprotected', [
    'occupant',
    'owner',
    'neighbour',
    'nobody there',
  ]),
];

/** What was left unsaid or unsafe, in sentences. */
export function leavingWarnings(
  verdicts: Readonly<Record<string, 'passed' | 'unexpected' | 'failed' | 'recorded'>>,
): string[] {
  return LEAVING.flatMap((proof) => {
    const verdict = verdicts[proof.field];
    if (verdict === undefined) return [`Left for the night, and not said: ${proof.label.toLowerCase()}.`];
    return verdict === 'failed'
      ? [`Left for the night, and to be mended first: ${proof.label.toLowerCase()}.`]
      : [];
  });
}
