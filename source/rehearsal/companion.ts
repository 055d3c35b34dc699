import type { OpenStep, TypedValue } from '../job/action.ts';
import type { Scene } from './building/faults/fault.ts';
import { act as lay } from './building/hands.ts';
import { type Card, workCard } from './technician/card.ts';
import { follow } from './technician/follow.ts';
import { enterBuilding, type Visit } from './technician/visit.ts';

/** The building beside a rehearsed job: somebody else works on the job, and asks it what a meter would show. */
export type Companion = {
  /** What eyes and meter tell on this card, each by its field, the card's work done. Nothing is changed by asking. */
  readonly answers: (card: Card) => Readonly<Record<string, TypedValue>>;
  /** The card passed: what it does is done in the building too. */
  readonly passed: (card: Card) => void;
  /**
   * Somebody goes and looks for what is behind a card that does not fit. What is found is put right; where the
   * survey was wrong it is said, and what to correct in it.
   */
  readonly look: (
    step: OpenStep,
    values: Readonly<Record<string, TypedValue>>,
    causes: readonly string[],
  ) => readonly Found[];
  /** Faults that stand in the building, and whether they were found. */
  readonly debrief: () => readonly {
    readonly fault: string;
    readonly says: string;
    readonly found: boolean;
  }[];
  readonly harm: () => readonly string[];
};

export type Found = {
  readonly fault: string;
  readonly says: string;
  readonly correct: readonly { readonly path: string; readonly value: unknown }[];
};

/**
 * The building of a rehearsed job as it stands now.
 *
 * @param done the cards that passed so far, in the order in which they passed
 */
export function accompany(
  scene: Scene,
  rehearsal: { readonly seed: number; readonly faults: readonly string[] },
  done: readonly Pick<Card, 'acts'>[],
): Companion {
  const visit: Visit = enterBuilding(scene, rehearsal.seed, rehearsal.faults);
  for (const { acts } of done) visit.building = acts.reduce(lay, visit.building);
  return {
    answers: (card) => workCard({ ...visit }, card),
    passed: ({ acts }) => {
      visit.building = acts.reduce(lay, visit.building);
    },
    look: (step, values, causes) => {
      const named = causes.map((cause) => ({ cause, says: '', try: '' }));
      return follow(visit, { step, before: visit.building, values }, named).map((fault) => {
        const { mend } = fault.placed;
        fault.mended = true;
        if (mend.by === 'hand') visit.building = mend.to(visit.building);
        return { fault: fault.name, says: mend.says, correct: mend.by === 'survey' ? mend.set : [] };
      });
    },
    debrief: () =>
      visit.faults.map(({ name, placed, mended }) => ({
        fault: name,
        says: placed.mend.says,
        found: mended,
      })),
    harm: () => visit.building.harm.map(({ says }) => says),
  };
}
