import { formatQuantity } from '../electrical/quantity-words.ts';
import type { Plan } from './plan.ts';
import { assumedText } from './text/assumed-text.ts';
import { circuitsText, zonesText } from './text/circuits-text.ts';
import { heading, paragraph, table } from './text/layout.ts';
import { newStripText, oldStripText } from './text/strips-text.ts';
import { supplyText } from './text/supply-text.ts';
import { findingsText, verdictText } from './text/verdict.ts';

/** Narrower than this nothing can be laid out. */
const LEAST_COLUMNS = 60;

/**
 * The plan on paper: verdict, findings, inputs, zones with what must be read, supply, both terminal strips,
 * parts. Somebody who knows the trade can do the rewiring from it alone. No colour is needed.
 *
 * @param columns 60 or more; 80 is what it is drawn for
 */
export function planToText(plan: Plan, columns: number): string {
  const width = Math.max(LEAST_COLUMNS, columns);
  return [
    ...verdictText(plan, width),
    ...findingsText(plan, width),
    ...circuitsText(plan, width),
    ...zonesText(plan, width),
    ...supplyText(plan, width),
    ...oldStripText(plan, width),
    ...newStripText(plan, width),
    ...heldOutText(plan, width),
    ...namesText(plan, width),
    ...partsText(plan, width),
    ...assumedText(plan, width),
  ].join('\n');
}

function heldOutText(plan: Plan, columns: number): string[] {
  if (plan.heldOut.length === 0) return [];
  const rows = plan.heldOut.map(({ detector, reason }) => [`  ${detector}`, reason.replaceAll('-', ' ')]);
  return [
    ...heading('Held out: never moved, and without supply once the panel is off', columns),
    ...table(rows, columns, 1),
  ];
}

/** Ids with what people call them, and the cable that goes there. */
function namesText({ survey }: Plan, columns: number): string[] {
  const named = [...survey.detectors, ...survey.sounders].map(({ id, name, cable: of }) => {
    const cable = survey.cables.find((one) => one.id === of);
    const how = cable
      ? `${of}, ${cable.conductor.name}, ${formatQuantity(cable.lengthMetres, 'metres')}`
      : of;
    return [id, name === id ? '' : name, how];
  });
  return named.length === 0 ? [] : [...heading('Names and cables', columns), ...table(named, columns, 1)];
}

function partsText({ parts }: Plan, columns: number): string[] {
  if (parts.length === 0) return [];
  return [
    ...heading('Parts to bring', columns),
    ...paragraph(parts.map(({ item, count }) => `${count} x ${item}`).join(', '), columns, '', ''),
  ];
}
