import { isInRange, isTooShort, LEAST_SLACK_METRES } from '../connections/screws.ts';
import type { Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { listed, metres } from './words.ts';

/** Does everything fit under the screws it goes to. */
export function screwFindings(facts: Facts): Finding[] {
  return [...overfilled(facts), ...unfit(facts), ...short(facts), ...unused(facts)];
}

function overfilled({ terminals, boards }: Facts): Finding[] {
  return terminals
    .filter(({ remedy }) => remedy !== 'none')
    .map(({ board, terminal, conductors, allowed, remedy }) =>
      finding(
        'screw-overfilled',
        'note',
        [`${board}:${terminal}`, ...conductors],
        conductors.length > allowed
          ? `${conductors.length} conductors go to ${terminal} of ${board}, and its maker allows ${allowed} under a screw.`
          : `${conductors.length} unlike conductors go to ${terminal} of ${board}; under one screw they must be alike.`,
        remedy === 'block'
          ? `Land them on a ${boards.some(({ id, aux }) => id === board && aux.positive === terminal) ? 'fused ' : ''}distribution block and take one lead from it to the screw.`
          : allowed > 1 && conductors.length > allowed
            ? `Land ${allowed - 1} of them and splice the others with one pigtail to the screw.`
            : 'Splice them with one pigtail to the screw.',
        { conductors: conductors.length, allowed },
      ),
    );
}

function unfit({ survey, boards, connections }: Facts): Finding[] {
  return boards.flatMap((board) => {
    const cables = new Set(
      connections
        .filter(({ to, by }) => by === 'direct' && 'board' in to && to.board === board.id)
        .map(({ conductor }) => conductor.split('/')[0]!),
    );
    const about = survey.cables.filter((cable) => cables.has(cable.id) && !isInRange(board, cable));
    if (about.length === 0) return [];
    const { from, to } = board.terminals;
    return [
      finding(
        'conductor-unfit',
        'caution',
        [board.id, ...about.map(({ id }) => id)],
        `${listed(about.map(({ id, conductor }) => `${id} (${conductor.name})`))} ${about.length > 1 ? 'are' : 'is'} outside what the screws of ${board.id} take, ${from.name} to ${to.name}.`,
        'Splice a short lead of a fitting size to each and land that.',
        { from: from.name, to: to.name },
      ),
    ];
  });
}

function short({ survey, connections }: Facts): Finding[] {
  if (!isTooShort(survey)) return [];
  const about = connections.filter(({ by }) => by === 'extension').map(({ conductor }) => conductor);
  if (about.length === 0) return [];
  return [
    finding(
      'conductor-short',
      'caution',
      about,
      `The conductors have ${metres(survey.panel.slackMetres ?? 0)} to spare at the panel, and a new screw wants ${metres(LEAST_SLACK_METRES)}.`,
      'Extend each with a splice and a piece of the same size; never pull a cable tight.',
      { slackMetres: survey.panel.slackMetres ?? 0, neededMetres: LEAST_SLACK_METRES },
    ),
  ];
}

function unused({ field, connections }: Facts): Finding[] {
  const parked = new Set(connections.filter(({ by }) => by === 'parked').map(({ conductor }) => conductor));
  const about = field.wiring.conductors
    .filter(
      ({ id, use }) =>
        parked.has(id) && (use === 'spare' || use === 'other' || use === 'screen' || use === 'data'),
    )
    .map(({ id }) => id);
  if (about.length === 0) return [];
  return [
    finding(
      'unused-core',
      'note',
      about,
      about.length === 1
        ? `One core serves nothing: ${about[0]}.`
        : `${about.length} cores serve nothing: ${listed(about)}.`,
      'Insulate each by itself and leave it long: it may be a second return or supply one day.',
      { cores: about.length },
    ),
  ];
}
