import { CAUSES, type Cause } from '../electrical/causes.ts';
import { diagnose, diagnoseReadings } from '../electrical/diagnose.ts';
import type { MeasuringPoint, Plan } from '../plan/plan.ts';
import type { JudgedField } from '../procedure/judge.ts';
import type { Proof, Step } from '../procedure/step.ts';

/** A cause by its name, what is so, and what to try. */
export type NamedCause = { readonly cause: string; readonly says: string; readonly try: string };

/**
 * What can be behind the answers of a card that do not fit, likeliest first and each once.
 *
 * @param plan asked for only where a reading at one of its measuring points is to be explained
 */
export function causesOf(step: Step, judged: readonly JudgedField[], plan: () => Plan): NamedCause[] {
  const found = judged
    .filter((field) => field.verdict === 'failed' || field.verdict === 'unexpected')
    .flatMap((field) => {
      const proof = step.proof.find((one) => one.field === field.field);
      const point = field.point === null ? undefined : pointOf(plan(), field.point);
      if (point) return causesAtPoint(point, field, judged, plan());
      return proof ? usualCauses(step, proof, field) : [];
    });
  return [...new Map(found.map((one) => [one.cause, one])).values()];
}

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
  return found.map(({ cause, says, try: tries }) => ({ cause, says, try: tries }));
}

function ohmsOf(field: JudgedField): number {
  return field.milli === null ? Number.POSITIVE_INFINITY : field.milli / 1000;
}

type Symptom = {
  readonly when: (seen: Seen) => boolean;
  readonly cause: Cause;
  readonly try: string;
};
type Seen = {
  readonly step: Step;
  readonly proof: Proof;
  readonly field: JudgedField;
  readonly milli: number;
};

const isSweep = (of: string) => (seen: Seen) => seen.proof.kind === 'sweep' && seen.proof.of === of;
const isVolts = (of: string, topic: RegExp) => (seen: Seen) =>
  seen.proof.kind === 'reading' && seen.proof.of === of && topic.test(seen.step.id);
const low = ({ milli, field }: Seen) => milli < (field.window?.minMilli ?? Number.NEGATIVE_INFINITY);
const all =
  (...tests: ((seen: Seen) => boolean)[]) =>
  (seen: Seen) =>
    tests.every((test) => test(seen));

/**
 * What is usually behind an answer that no measuring point explains: voltages, observations. Common practice, no
 * source; the order is the order of looking.
 */
const SYMPTOMS: readonly Symptom[] = [
  {
    when: (seen) => isSweep('volts-ac')(seen) && seen.field.verdict === 'unexpected',
    cause: 'induced-voltage',
    try: 'It collapsed under load: note which cable runs along it, and go on.',
  },
  {
    when: isSweep('volts-dc'),
    cause: 'battery-connected',
    try: 'Follow both leads of every standby battery and take them off, negative first.',
  },
  {
    when: isSweep('volts-dc'),
    cause: 'sounder-feeds-back',
    try: 'Look whether the sounder has a battery of its own; isolate it at the sounder.',
  },
  {
    when: (seen) => isSweep('volts-ac')(seen) || isSweep('volts-dc')(seen),
    cause: 'ringing-voltage',
    try: 'Take the telephone line off at its own socket.',
  },
  {
    when: (seen) => isSweep('volts-ac')(seen) || isSweep('volts-dc')(seen),
    cause: 'foreign-voltage',
    try: 'Stop. Find what feeds it, from the other end of that cable; above 50 V leave it to an electrician.',
  },
  {
    when: isVolts('volts-ac', /adapter/),
    cause: 'adapter-gives-ac',
    try: 'Put this adapter away. Use one that gives DC.',
  },
  {
    when: all(isVolts('volts-dc', /adapter/), ({ milli }) => milli < 0),
    cause: 'adapter-reversed',
    try: 'Swap its two conductors at the board end and read again before it is connected.',
  },
  {
    when: all(isVolts('volts-dc', /adapter/), ({ milli }) => Math.abs(milli) < 1000),
    cause: 'adapter-gives-ac',
    try: 'Read it once on AC volts. If it gives AC, put it away.',
  },
  {
    when: isVolts('volts-dc', /adapter/),
    cause: 'adapter-voltage-differs',
    try: 'Read what its plate says; use one with the voltage that the board takes.',
  },
  {
    when: all(isVolts('volts-dc', /^(?!.*adapter)/), ({ milli }) => milli < 0),
    cause: 'aux-reversed',
    try: 'Power off. Swap positive and negative of this cable, at one end only.',
  },
  {
    when: all(isVolts('volts-dc', /battery|mains-fail/), low),
    cause: 'weak-battery',
    try: 'Charge it for a night and read again under load; replace it if it falls again.',
  },
  {
    when: all(isVolts('volts-dc', /^(?!.*adapter)/), low),
    cause: 'under-voltage',
    try: 'Read again at the board: if it is right there, the cable takes it away.',
  },
  {
    when: all(isVolts('volts-dc', /^(?!.*adapter)/), low),
    cause: 'corroded-splice',
    try: 'Read along the cable, joint by joint; make the joint anew where the voltage falls.',
  },
  {
    when: ({ proof, step }) => proof.kind === 'reading' && proof.of === 'amps' && /sounder/.test(step.id),
    cause: 'sounder-overload',
    try: 'Take off a part of what hangs on that output, or give it a supply of its own.',
  },
  {
    when: ({ proof, field }) => proof.kind === 'observation' && /nothing/.test(field.says),
    cause: 'wrong-input',
    try: 'Look whether another input changed; compare the conductor with the plan.',
  },
  {
    when: ({ proof, field }) => proof.kind === 'observation' && /nothing|open/.test(field.says),
    cause: 'common-loose',
    try: 'Pull at the common of this input; tighten it.',
  },
  {
    when: ({ proof, field }) => proof.kind === 'observation' && /open/.test(field.says),
    cause: 'contact-stuck-open',
    try: 'Look at the contact and its magnet; read the pair with the input off.',
  },
  {
    when: ({ proof, field }) => proof.kind === 'observation' && /closed/.test(field.says),
    cause: 'contact-bridged',
    try: 'Read the pair with the contact worked: it must go open.',
  },
];

function usualCauses(step: Step, proof: Proof, field: JudgedField): NamedCause[] {
  const seen = { step, proof, field, milli: field.milli ?? Number.NaN };
  return SYMPTOMS.filter((symptom) => symptom.when(seen)).map(({ cause, try: tries }) => ({
    cause,
    says: `It may be that ${CAUSES[cause]}.`,
    try: tries,
  }));
}
