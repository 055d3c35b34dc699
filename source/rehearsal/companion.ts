import type { TypedValue } from '../job/action.ts';
import { type Mend, mended, type Scene } from './building/faults/fault.ts';
import { faultNamed } from './building/faults/list.ts';
import { act } from './building/hands.ts';
import { type Card, workCard } from './technician/card.ts';
import { follow } from './technician/follow.ts';
import { enterBuilding, type Visit } from './technician/visit.ts';

/** The building beside a rehearsed job: somebody else works on the job, and asks it what a meter would show. */
export type Companion = {
  /** What eyes and meter tell on this card, each by its field, the card's work done. Nothing is changed by asking. */
  readonly answers: (card: Card) => Readonly<Record<string, TypedValue>>;
  /** The card passed: what it does is done in the building too. */
  readonly passed: (card: Pick<Card, 'acts'>) => void;
  /**
   * Somebody goes and looks for what is behind a card that does not fit. What is found is put right; where the
   * survey was wrong it is said, and what to correct in it.
   */
  readonly look: (tried: Tried) => readonly Found[];
  /** What was found before, when the job was worked on the last time: it is put right again. */
  readonly found: (fault: string) => void;
  /** Faults that stand in the building, and whether they were found. */
  readonly debrief: () => readonly {
    readonly fault: string;
    readonly says: string;
    readonly found: boolean;
  }[];
  readonly harm: () => readonly string[];
};

/** A card that was tried, and how it went. */
export type Tried = {
  readonly card: Card;
  readonly values: Readonly<Record<string, TypedValue>>;
  readonly causes: readonly string[];
  /** Whether it passed all the same, so that its work is done. */
  readonly passed: boolean;
};

export type Found = {
  readonly fault: string;
  readonly says: string;
  /** What to correct in the survey, in words: a field and its value, or a thing that it does not know. */
  readonly correct: readonly string[];
};

/** The building of a rehearsed job, nothing done in it yet. */
export function accompany(
  scene: Scene,
  rehearsal: { readonly seed: number; readonly faults: readonly string[] },
): Companion {
  const visit: Visit = enterBuilding(scene, rehearsal.seed, rehearsal.faults);
  let before = visit.building;
  const putRight = (fault: Visit['faults'][number]) => {
    fault.mended = true;
    visit.building = mended(visit.building, fault.placed.mend);
  };
  return {
    answers: (card) => workCard({ ...visit }, card),
    passed: ({ acts }) => {
      before = visit.building;
      visit.building = acts.reduce(act, visit.building);
    },
    look: ({ card, values, causes, passed }) => {
      const named = causes.map((cause) => ({ cause, says: '', try: '' }));
      const done = { step: card, before: passed ? before : visit.building, values };
      return follow(visit, done, named).map((fault) => {
        putRight(fault);
        const { mend } = fault.placed;
        return { fault: fault.name, says: mend.says, correct: mend.by === 'survey' ? toldOf(mend) : [] };
      });
    },
    found: (name) => {
      const fault = visit.faults.find((one) => one.name === name && !one.mended);
      if (fault !== undefined) putRight(fault);
    },
    debrief: () =>
      visit.faults.map(({ name, mended }) => ({
        fault: name,
        says: faultNamed(name)?.says ?? '',
        found: mended,
      })),
    harm: () => visit.building.harm.map(({ says }) => says),
  };
}

function toldOf({ set, told }: Extract<Mend, { by: 'survey' }>): string[] {
  if (told !== undefined) return [told];
  return set.map(
    ({ path, value }) => `${path}: ${typeof value === 'string' ? value : JSON.stringify(value)}`,
  );
}
