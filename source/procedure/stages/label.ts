import type { WiredConductor } from '../../wiring/wiring.ts';
import { card, number } from '../card.ts';
import { cautions } from '../cautions.ts';
import { bare, type Facts, listed } from '../facts.ts';
import type { LabelGroup } from '../label-groups.ts';
import type { Step, TextProof } from '../step.ts';

/** Stage 6: every conductor gets its label before it leaves its terminal. One card for the cables of a zone. */
export function labelSteps(facts: Facts): Step[] {
  return facts.labels.map((group) => label(facts, group));
}

function label(facts: Facts, { card: id, cables, conductors }: LabelGroup): Step {
  const names = listed(cables);
  const held = conductors.some((one) => facts.held.conductors.has(one.id));
  return card('label', {
    id,
    title: held
      ? `Label the ${conductors.length} wires of ${names}, red: they stay where they are`
      : `Label the ${conductors.length} wires of ${names} where they sit`,
    why: 'A label is read off the plan later; a memory is not.',
    cautions: cautions('shared-screw', ...(held ? (['life-safety'] as const) : [])),
    acts: conductors.map((one) => ({ do: 'label' as const, conductor: one.id })),
    needs: 'dead',
    about: [...cables, ...new Set(conductors.flatMap((one) => (one.zone === null ? [] : [one.zone])))],
    proof: conductors.map((one) =>
      labelled(
        one.id,
        `Number on the label of ${one.colour} of ${one.cable}, ${place(one)}`,
        labelOf(facts, one),
      ),
    ),
  });
}

function labelled(field: string, label: string, offer: string): TextProof {
  return { ...number(field, label, [offer]), check: { is: 'label' } };
}

function place(one: WiredConductor): string {
  return one.screw === null ? 'not under a screw' : `screw ${bare(one.screw)}`;
}

/** Labels are numbered as the wires are listed, from 1. */
function labelOf(facts: Facts, one: WiredConductor): string {
  return `${facts.conductors.filter((other) => other.atPanel).indexOf(one) + 1}`;
}
