import { card, choice, reading, who, words } from './card.ts';
import type { JudgedField } from './judge-answer.ts';
import type { JobState } from './state.ts';
import type { ChoiceProof, Procedure, Proof, Step } from './step.ts';
import { STOPS, type StopCode } from './stop-table.ts';

type Answer = { readonly step: RegExp; readonly field: RegExp; readonly option: string };
const answer = (step: RegExp, field: RegExp, option: string): Answer => ({ step, field, option });

/** The answers to choose that stop the work. A voltage beyond the limit stops it wherever it is read. */
export const STOPPING_ANSWERS: readonly (readonly [Answer, StopCode])[] = [
  [answer(/^survey\.scope$/, /^role$/, 'neither'), 'not-allowed'],
  [answer(/^survey\.scope$/, /^permit$/, 'not-sure'), 'not-allowed'],
  [answer(/^survey\.outside$/, /^set$/, 'set'), 'loud'],
  [answer(/^survey\.outside$/, /^feed$/, 'otherwise'), 'feed-live'],
  [answer(/^survey\.outside$/, /^sources$/, 'more'), 'feed-live'],
  [answer(/^survey\.outside$/, /^life-safety$/, 'more'), 'unwatched'],
  [answer(/^centre\.on-test$/, /^on-test$/, 'refused'), 'not-on-test'],
  [answer(/^centre\.end$/, /^end$/, 'still-on-test'), 'not-on-test'],
  [answer(/^life-safety\.decision$/, /^way$/, 'stop'), 'unwatched'],
  [answer(/^impairment\.open$/, /^interim$/, 'nothing'), 'unwatched'],
  [answer(/^electrician\./, /^state$/, 'not-yet'), 'mains'],
  [answer(/^output\./, /^state$/, 'not-yet'), 'mains'],
  [answer(/^sounder\.look$/, /^sounder$/, 'found'), 'loud'],
  [answer(/^sounder\.plan\./, /^way$/, 'not-yet'), 'loud'],
  [answer(/^sounder\.sounds\./, /^stop$/, 'no-way'), 'loud'],
  [answer(/^sounder\.restore\./, /^battery$/, 'loud'), 'loud'],
  [answer(/^supply\.isolate$/, /^sounder-/, 'unexpected'), 'loud'],
  [answer(/^walk\.sounder\./, /^sound$/, 'would-not-stop'), 'loud'],
  [answer(/^isolate\.telephone$/, /^line$/, 'found'), 'feed-live'],
  [answer(/^isolate\.battery\./, /^covers$/, 'bare'), 'power-harms'],
  [answer(/^isolate\.battery\./, /^metal$/, 'on'), 'power-harms'],
  [answer(/^clear\.panel$/, /^bond$/, 'came-off'), 'bond'],
  [answer(/^mount\./, /^insulation$/, 'touches'), 'power-harms'],
  [answer(/^mount\./, /^swarf$/, 'some'), 'power-harms'],
  [answer(/^cold\.look$/, /^left$/, 'some'), 'power-harms'],
  [answer(/^cold\.look$/, /^loose$/, 'some'), 'power-harms'],
  [answer(/^cold\.look$/, /^polarity-/, 'swapped'), 'power-harms'],
  [answer(/^power\.adapter$/, /^adapter-/, 'another'), 'power-harms'],
  [answer(/^power\.adapter$/, /^signs$/, 'some'), 'power-harms'],
  [answer(/^power\.battery\./, /^fuse$/, 'none'), 'power-harms'],
  [answer(/^prepare\.adapter\./, /^polarity$/, 'reversed'), 'power-harms'],
  [answer(/^handover\.user$/, /^open-points$/, 'not-accepted'), 'not-signed'],
];

/** The steps that put on record what a stop of everything was, and that it is gone. */
export const STOP_STEPS: readonly Step[] = [
  card('power-down', {
    id: 'stop.voltage',
    title: 'Put on record what the voltage was',
    why: 'A voltage that was met and is gone by itself comes back: it is found by name before a hand goes there.',
    repeatable: true,
    proof: [
      who('who', 'Who found what it was: a licensed electrician, unless it was misread', []),
      words('was', 'What it was, and where it came from', [], 8),
      choice('gone', 'It stands now', [
        ['gone', 'Taken off or made safe, and kept from coming back', 'pass'],
        ['misread', 'It was never there: misread, or typed wrongly', 'pass'],
        ['still', 'Not found, or still there', 'fail', 'Nothing goes on. Keep everybody away from it.'],
      ]),
      reading({
        field: 'volts',
        of: 'volts-ac',
        label: 'Volts read there now, at the same place, by whoever found it',
        between: ['place:met', 'earth'],
      }),
    ],
  }),
  card('clear', {
    id: 'stop.bond',
    title: 'Put on record that the protective conductor is back',
    why: 'An earthed box without its protective conductor gives no fuse a reason to blow.',
    repeatable: true,
    proof: [
      who('electrician', 'Licensed electrician who put it back', []),
      words('test', 'How it was tested, with what result', ['continuity read with its own meter'], 4),
      choice('bond', 'The protective conductor', [
        ['back', 'Back on, and tested', 'pass'],
        ['off', 'Not back, or not tested', 'fail', 'Nothing goes on, and no power comes back to this box.'],
      ]),
    ],
  }),
];

/** The steps with each answer that stops the work told so, beside the steps that open it again. */
export function withStops(steps: readonly Step[]): Step[] {
  return steps.map((step) => {
    const proof = step.proof.map((one) => (one.kind === 'choice' ? withStop(step.id, one) : one));
    return proof.every((one, at) => one === step.proof[at]) ? step : { ...step, proof };
  });
}

function withStop(step: string, proof: ChoiceProof): ChoiceProof {
  const codes = new Map(
    STOPPING_ANSWERS.filter(([on]) => on.step.test(step) && on.field.test(proof.field)).map(([on, code]) => [
      on.option,
      code,
    ]),
  );
  if (codes.size === 0) return proof;
  return {
    ...proof,
    options: proof.options.map((option) => {
      const stops = codes.get(option.id);
      return stops === undefined ? option : { ...option, stops };
    }),
  };
}

/** Why the answers of a card stop the work, the gravest reason; null where none does. */
export function stopOf(
  proofs: readonly Proof[],
  fields: readonly Pick<JudgedField, 'field' | 'fall'>[],
): StopCode | null {
  const codes = fields.flatMap(({ field, fall }): StopCode[] => {
    if (fall.is === 'beyond-stop') return ['voltage'];
    if (fall.is !== 'chosen-against') return [];
    const proof = proofs.find((one) => one.field === field);
    const stops = proof?.kind === 'choice' && proof.options.find(({ id }) => id === fall.option)?.stops;
    return stops ? [stops] : [];
  });
  return codes.sort((a, b) => rank(a) - rank(b))[0] ?? null;
}

/** The step whose pass ends a stop that was met at a step. */
export function openerOf(code: StopCode, step: string): string {
  return STOPS[code].opener ?? step;
}

/** Whether a step only puts on record what a stop was: offered while that stands, and never counted as work. */
export function isStopStep(step: Pick<Step, 'id'>): boolean {
  return STOP_STEPS.some(({ id }) => id === step.id);
}

export type StandingStop = { readonly code: StopCode; readonly opener: string };

/** What has stopped the work and is not answered, the gravest first. */
export function standingStops({ context }: JobState): StandingStop[] {
  const all = Object.entries(context.stops).map(([opener, code]) => ({ code, opener }));
  return all.sort((a, b) => rank(a.code) - rank(b.code));
}

const ORDER = Object.keys(STOPS);
const rank = (code: StopCode) => ORDER.indexOf(code) + (STOPS[code].reach === 'all' ? 0 : ORDER.length);

/** What stands, and what opens the way again, with the card that met it where that is the one. */
export function sayStop(procedure: Procedure, { code, opener }: StandingStop): string {
  const { says, way } = STOPS[code];
  const at = STOPS[code].opener === null ? procedure.steps.find(({ id }) => id === opener) : undefined;
  return `${says} ${at ? `It was answered at “${at.title}”. ` : ''}${way}`;
}
