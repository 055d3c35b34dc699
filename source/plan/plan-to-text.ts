import { formatQuantity } from '../electrical/quantity-words.ts';
import type { Plan } from './plan.ts';
import { assumedText } from './text/assumed-text.ts';
import { circuitsText } from './text/circuits-text.ts';
import { heading, paragraph, table } from './text/layout.ts';
import { linesText } from './text/lines-text.ts';
import { newStripText } from './text/new-strip-text.ts';
import { oldStripText } from './text/old-strip-text.ts';
import { partsText } from './text/parts-text.ts';
import { supplyText } from './text/supply-text.ts';
import { findingsText, verdictText } from './text/verdict.ts';
import { zonesText } from './text/zones-text.ts';

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
    ...linesText(plan, width),
    ...newStripText(plan, width),
    ...heldOutText(plan, width),
    ...namesText(plan, width),
    ...partsText(plan, width),
    ...assumedText(plan, width),
  ].join('\n');
}

function heldOutText(plan: Plan, columns: number): string[] {
  if (plan.heldOut.length === 0) return [];
  const rows = plan.heldOut.map(({ detector, reason }) => [
    `  ${detector}`,
    reason.replaceAll('-', ' '),
    conductorsOf(plan, detector).join(', '),
  ]);
  return [
    ...heading('Held out: never moved, and without supply once the panel is off', columns),
    ...table(rows, columns, 2),
  ];
}

/** Conductors at the panel that stay with what is held out. */
function conductorsOf({ survey, wiring }: Plan, id: string): string[] {
  const cable = [...survey.detectors, ...survey.keypads].find((one) => one.id === id)?.cable;
  return wiring.conductors
    .filter((one) => one.cable === cable && one.atPanel)
    .map((one) => `${one.id}${one.screw === null ? '' : ` on ${one.screw}`}`);
}

/** Ids with what people call them, and the cable that goes there. */
function namesText({ survey }: Plan, columns: number): string[] {
  const named = [...survey.detectors, ...survey.sounders].map(({ id, name, cable: of }) => {
    const cable = survey.cables.find((one) => one.id === of);
    const how = cable
      ? `${of}, ${cable.conductor.name}, ${formatQuantity(cable.lengthMetres, 'metres')}${cable.from === 'panel' ? '' : `, on from ${cable.from}`}`
      : of;
    return [id, name === id ? '' : name, how];
  });
  return named.length === 0
    ? []
    : [...heading('Names and cables', columns), ...table(named, columns, 1), ...onwardText(survey, columns)];
}

function onwardText({ cables }: Plan['survey'], columns: number): string[] {
  if (cables.every(({ from }) => from === 'panel')) return [];
  return paragraph(
    'On from another: joined to it out in the building, never at the panel; nothing of it is touched.',
    columns,
    '',
    '',
  );
}
