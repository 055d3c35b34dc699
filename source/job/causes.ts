import { CAUSES, type Cause } from '../electrical/causes.ts';
import { diagnose, diagnoseReadings } from '../electrical/diagnose.ts';
import type { MeasuringPoint, Plan } from '../plan/plan.ts';
import type { JudgedField } from '../procedure/judge.ts';
import type { Proof, Step } from '../procedure/step.ts';
import { FIRST_TRIES, type Seen, usualCauses } from './symptoms.ts';

/** A cause by its name, what is so, and what to try. */
export type NamedCause = { readonly cause: string; readonly says: string; readonly try: string };

/**
 * What can be behind the answers of a card that do not fit, likeliest first and each once.
 *
 * @param plan asked for only where a reading at one of its measuring points is to be explained
 */
export function causesOf(step: Step, judged: readonly JudgedField[], plan: () => Plan): NamedCause[] {
  // A voltage that collapsed under load is told already, and is behind nothing else on the card.
  const open = judged.filter(isToBeExplained).sort((a, b) => Number(isTold(a)) - Number(isTold(b)));
  const found = open.flatMap((field) => {
    const proof = step.proof.find((one) => one.field === field.field);
    const point = field.point === null ? undefined : pointOf(plan(), field.point);
    if (point) return causesAtPoint(point, field, judged, plan());
    return proof ? causesOfSymptom(step, proof, field, plan) : [];
  });
  return [...new Map(found.map((one) => [one.cause, one])).values()];
}

/** As found, a reading beside its window stops nothing and is explained all the same; at a powered-off panel it says little. */
function isToBeExplained({ verdict, says, point }: JudgedField): boolean {
  if (verdict === 'failed' || verdict === 'unexpected') return true;
  return verdict === 'recorded' && says === 'not as expected' && point?.startsWith('found.') !== true;
}

const isTold = ({ says }: JudgedField) => says.startsWith('induced');

function pointOf(plan: Plan, id: string): MeasuringPoint | undefined {
  return plan.points.find((one) => one.id === id);
}

/** Every reading of the same two ends on this card counts: a cause that explains all of them is likelier. */
function causesAtPoint(
  point: MeasuringPoint,
  field: JudgedField,
  judged: readonly JudgedField[],
  plan: Plan,
): NamedCause[] {
  const together = judged.flatMap((one) => {
    const other = one.point === null ? undefined : pointOf(plan, one.point);
    const isSameLoop = other?.phase === point.phase && other.between.join() === point.between.join();
    return isSameLoop ? [{ ohms: ohmsOf(one), states: other.with }] : [];
  });
  const joint = diagnoseReadings(together, point.expression, point.suspects);
  const alone = { expression: point.expression, states: point.with };
  const found = joint.length > 0 ? joint : diagnose(ohmsOf(field), alone, point.suspects);
  const named = found.map(({ cause, says, try: tries }) => ({ cause, says, try: tries }));
  // A pair of another zone may read anything, and a voltage makes an ohmmeter show what no loop would.
  if (named.length < FEW) named.push(...WHATEVER_READS.map(nameCause));
  if (point.phase !== 'landed') return named;
  // The pair was read before it was landed: what is new since then is the landing.
  const landing = SLIPS.map(nameCause);
  return ohmsOf(field) > LANDED_OHMS ? [...landing, ...named] : [...named, ...landing];
}

const WHATEVER_READS: readonly Cause[] = ['other-pair', 'foreign-voltage', 'ringing-voltage'];
const FEW = 3;
const SLIPS: readonly Cause[] = ['common-loose', 'wrong-input'];
/** More than any bare loop has, and less than an input shows of itself. */
const LANDED_OHMS = 1000;

function ohmsOf(field: JudgedField): number {
  return field.milli === null ? Number.POSITIVE_INFINITY : field.milli / 1000;
}

function causesOfSymptom(step: Step, proof: Proof, field: JudgedField, plan: () => Plan): NamedCause[] {
  const met = /met at (\S+)/.exec(field.says)?.[1];
  const use = plan().wiring.conductors.find(({ id }) => id === met)?.use ?? '';
  const seen: Seen = {
    step,
    proof,
    field,
    value: (field.milli ?? Number.NaN) / 1000,
    powered: proof.kind === 'observation' && hasPowered(plan(), proof),
    atSounder: use.startsWith('sounder') || use === 'hold-off' || use === 'strobe',
  };
  return usualCauses(seen).map(nameCause);
}

/** Whether a detector on this input needs a supply to hold its contact. */
function hasPowered(
  plan: Plan,
  { board, input }: { readonly board: string; readonly input: string },
): boolean {
  const circuit = plan.circuits.find((one) => one.board === board && one.input === input);
  return plan.survey.detectors.some(
    ({ id, supply }) => supply !== null && supply !== 'from-loop' && circuit?.detectors.includes(id) === true,
  );
}

function nameCause(cause: Cause): NamedCause {
  return { cause, says: `It may be that ${CAUSES[cause]}.`, try: FIRST_TRIES[cause] ?? '' };
}
