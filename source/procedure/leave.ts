import { CANNOT, choice, count, time, when, who } from './card.ts';
import type { JobState } from './state.ts';
import type { Procedure, Proof } from './step.ts';
import { isLineCut } from './warnings.ts';

/** What leaving for the night asks: nothing is left bare, loud, forgotten or unsaid. */
export function leaveProof(procedure: Procedure, state: JobState): Proof[] {
  const { status } = state.context;
  const isOnTest = status['centre.on-test'] === 'done' && status['centre.end'] !== 'done';
  const hasSounder = procedure.steps.some((step) => step.id.startsWith('walk.sounder.'));
  const opened = status['survey.open'] !== undefined && status['survey.open'] !== 'open';
  return [
    ...when(
      opened,
      count('ends', 'Ends that hang free, each insulated: how many'),
      choice('ends-state', 'Those ends', [
        ['insulated', 'Every one insulated, or there are none', 'pass'],
        CANNOT,
      ]),
      choice('battery', 'Batteries', [
        ['covered', 'Off, terminals covered', 'pass'],
        ['in-service', 'In service on the board, or on the old panel untouched', 'pass'],
        CANNOT,
      ]),
    ),
    choice('power', 'What is powered while nobody is here', [
      ['nothing', 'Nothing', 'pass'],
      ['finished', 'The new board, with the finished circuits alone', 'pass'],
      ['old-panel', 'The old panel, not opened up yet', 'pass'],
    ]),
    ...when(
      isOnTest,
      time('until', 'Centre on test until (extended by a call)', ['tomorrow 18:00', '24 hours from now']),
    ),
    ...when(
      isLineCut(procedure, state),
      choice('calls', 'Emergency calls, with the telephone line unplugged', [
        ['other', 'Over another telephone, which was tried; whoever is here knows', 'pass'],
        ['nobody', 'Nobody is in the building', 'pass'],
        CANNOT,
      ]),
    ),
    ...when(
      hasSounder,
      choice('sounder', 'The sounder', [
        ['safe', 'Safe: it cannot sound', 'pass'],
        ['works', 'It works as before', 'pass'],
        CANNOT,
      ]),
    ),
    who('told', 'Who was told which openings are unprotected', ['owner', 'occupant', 'caretaker']),
  ];
}
