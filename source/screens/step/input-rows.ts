import { settingsOf } from '../../handover/input-sheet.ts';
import { type InputRow, inputSheet } from '../../plan/input-sheet.ts';
import type { Proof, Step } from '../../procedure/step.ts';
import type { OpenJob } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import type { Line } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';

/**
 * The rows of the input sheet that a card is about: of the input that is looked at, or, while the inputs are being named,
 * of all that the card will look at.
 */
export function inputRowLines(job: OpenJob, step: Step, asked: Proof | null, room: Room): readonly Line[] {
  if (step.stage !== 'prepare') return [];
  const looked = step.proof.filter((proof) => proof.kind === 'observation');
  if (looked.length === 0) return [];
  const now = asked?.kind === 'observation' ? [asked] : looked;
  const rows = inputSheet(job.plan).filter((row) =>
    now.some(({ board, input }) => row.board === board && row.input === input),
  );
  return rows.flatMap((row) => rowLines(row, room));
}

function rowLines(row: InputRow, room: Room): readonly Line[] {
  return wrapMarked(
    { text: `${row.terminal}-${row.common} `.padEnd(7), bold: true },
    `${row.name}: ${settingsOf(row)}`,
    room.columns,
  );
}
