import { CAUSES, type Cause } from '../electrical/causes.ts';
import { diagnose, diagnoseReadings, RANK_SIZE } from '../electrical/diagnose.ts';
import type { MeasuringPoint, Plan } from '../plan/plan.ts';
import type { JudgedField } from '../procedure/judge.ts';
import type { Proof, Step } from '../procedure/step.ts';
import { topicOf } from '../procedure/topic.ts';
import { DEAD_VOLTS } from '../procedure/voltage.ts';
import { FIRST_TRIES } from './first-tries.ts';
import type { HeardAnswer } from './hearing/hearing.ts';
import { signOf } from './hearing/say-heard.ts';
import { isLeftOpen, withoutRuledOut } from './ruled-out.ts';
import type { Seen } from './symptom.ts';
import { usualCauses } from './symptoms.ts';

/** A cause by its name, what is so, and what to try. */
type Explained = { readonly cause: string; readonly says: string; readonly try: string };

type Heard = Readonly<Record<string, HeardAnswer>>;

/** With its rank, from 1: causes that the answers so far cannot tell apart share one, three at most. */
export type NamedCause = Explained & { readonly rank: number };

/**
 * What can be behind the answers of a card that do not fit, likeliest first and each once.
 *
 * @param plan asked for only where a reading at one of its measuring points is to be explained
 * @param heard what was heard of the board, by field
 */
export function causesOf(
  step: Step,
  judged: readonly JudgedField[],
  plan: () => Plan,
  heard: Heard = {},
): NamedCause[] {
  const explain = (field: JudgedField): readonly Explained[] => {
    const proof = step.proof.find((one) => one.field === field.field);
    const point = field.point === null ? undefined : pointOf(plan(), field.point);
    if (point) return causesAtPoint(point, field, judged, plan());
    return proof ? causesOfSymptom(step, proof, field, judged, plan, heard) : [];
  };
  const open = judged.filter(isToBeExplained);
  // A voltage that collapsed under load is told already, and is behind nothing else on the card.
  const found = merged(open.filter((one) => !isTold(one)).map(explain));
  const all = merged([found, ...open.filter(isTold).map((one) => [...found, ...explain(one)])]);
  return all.map((one, at) => ({ ...one, rank: Math.floor(at / RANK_SIZE) + 1 }));
}

/** Each cause once: first what explains most of the answers, then where the one that it explains best puts it. */
function merged(lists: readonly (readonly Explained[])[]): Explained[] {
  const best = new Map<string, { readonly one: Explained; readonly at: number; readonly explains: number }>();
  for (const list of lists) {
    for (const [at, one] of list.entries()) {
      const known = best.get(one.cause);
      const better = known === undefined || at < known.at ? { one, at } : known;
      best.set(one.cause, { one: better.one, at: better.at, explains: (known?.explains ?? 0) + 1 });
    }
  }
  return [...best.values()].sort((a, b) => b.explains - a.explains || a.at - b.at).map(({ one }) => one);
}

/** As found, a reading beside its window stops nothing and is explained all the same; at a powered-off panel it says little. */
function isToBeExplained({ verdict, fall, point }: JudgedField): boolean {
  // Points that are missing are told; they have no cause in the wiring.
  if (fall.is === 'short-count') return false;
  if (verdict === 'failed' || verdict === 'unexpected') return true;
  return fall.is === 'odd' && point?.startsWith('found.') !== true;
}

const isTold = ({ fall }: JudgedField) => fall.is === 'induced';

function pointOf(plan: Plan, id: string): MeasuringPoint | undefined {
  return plan.points.find((one) => one.id === id);
}

/** Every reading of the same two ends on this card counts: a cause that explains all of them is likelier. */
function causesAtPoint(
  point: MeasuringPoint,
  field: JudgedField,
  judged: readonly JudgedField[],
  plan: Plan,
): Explained[] {
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
  if (named.length < FEW) named.push(...WHATEVER_READS.filter((one) => isLeftOpen(one, plan)).map(nameCause));
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

function causesOfSymptom(
  step: Step,
  proof: Proof,
  field: JudgedField,
  judged: readonly JudgedField[],
  plan: () => Plan,
  heard: Heard,
): Explained[] {
  const { fall } = field;
  const met = 'at' in fall ? fall.at : null;
  const use = plan().wiring.conductors.find(({ id }) => id === met)?.use ?? '';
  const isOverRange = field.window !== null && field.milli === null;
  const value = isOverRange ? Number.POSITIVE_INFINITY : (field.milli ?? Number.NaN) / 1000;
  const seen: Seen = {
    topic: topicOf(step),
    kind: proof.kind,
    of: 'of' in proof ? proof.of : null,
    field: field.field,
    fall: fall.is,
    shown: 'shown' in fall ? fall.shown : null,
    option: 'option' in fall ? fall.option : null,
    value,
    below: value * 1000 < (field.window?.minMilli ?? Number.NEGATIVE_INFINITY),
    powered: proof.kind === 'observation' && hasPowered(plan(), proof),
    ...followedUp(step, field.field, judged),
    alternates: step.proof.some(
      (one) =>
        'of' in one &&
        one.of === 'volts-ac' &&
        judged.some((read) => read.field === one.field && Math.abs(read.milli ?? 0) > DEAD_VOLTS * 1000),
    ),
    heard: proof.kind === 'observation' ? signOf(heard[field.field]) : null,
    atSounder: use.startsWith('sounder') || use === 'hold-off' || use === 'strobe',
  };
  return withoutRuledOut(usualCauses(seen), plan()).map(nameCause);
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

/** What was read at the detectors because their input did not show what it should. */
function followedUp(
  step: Step,
  looked: string,
  judged: readonly JudgedField[],
): Pick<Seen, 'supply' | 'contact'> {
  const read = step.proof.flatMap((proof) => {
    const isOfIt =
      proof.kind === 'reading' && proof.when && 'seen' in proof.when && proof.when.seen === looked;
    const one = isOfIt ? judged.find(({ field }) => field === proof.field) : undefined;
    return one === undefined ? [] : [{ ...one, volts: (one.milli ?? 0) / 1000 }];
  });
  const contacts = read.filter(({ field }) => field.startsWith('contact-'));
  const isOpen = contacts.some(({ volts }) => Math.abs(volts) > CLOSED_VOLTS);
  return {
    supply: supplyOf(read.filter(({ field }) => field.startsWith('supply-'))),
    contact: contacts.length === 0 ? null : isOpen ? 'open' : 'closed',
  };
}

/** What a closed contact has across it at most, with the little current of an input. Common practice, no source. */
const CLOSED_VOLTS = 0.5;

function supplyOf(read: readonly (JudgedField & { readonly volts: number })[]): Seen['supply'] {
  const [worst] = [...read].sort((a, b) => a.volts - b.volts);
  if (worst === undefined) return null;
  if (worst.volts < -1) return 'reversed';
  if (worst.volts < 1) return 'none';
  return worst.volts * 1000 < (worst.window?.minMilli ?? 0) ? 'low' : 'right';
}

function nameCause(cause: Cause): Explained {
  return { cause, says: `It may be that ${CAUSES[cause]}.`, try: FIRST_TRIES[cause] ?? '' };
}
