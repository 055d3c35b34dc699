import { mayBeMonitored, telephoneLine } from '../../site/outside.ts';
import type { Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { listed } from './words.ts';

/** What stops at a gate of its own before anybody opens an enclosure, and what surrounds the boards. */
export function siteFindings(facts: Facts): Finding[] {
  return [
    ...incomplete(facts),
    ...feed(facts),
    ...signalling(facts),
    ...foreign(facts),
    ...surroundings(facts),
  ];
}

function incomplete({ survey }: Facts): Finding[] {
  if (survey.complete) return [];
  return [
    finding(
      'survey-incomplete',
      'caution',
      ['survey'],
      'Only what can be seen from outside has been surveyed.',
      'Open the job, work up to the opened enclosure, and complete the survey there.',
    ),
  ];
}

function feed({ survey }: Facts): Finding[] {
  const kind = survey.outside.feed;
  if (kind === 'unknown')
    return [
      finding(
        'feed-unknown',
        'gate',
        ['outside'],
        'Nobody knows how the panel is fed, so mains inside the enclosure must be reckoned with.',
        'Find out from outside; if that is not possible, a licensed electrician opens it, isolates it and signs.',
      ),
    ];
  if (kind === 'mains-in-enclosure' || kind === 'hard-wired-transformer')
    return [
      finding(
        'mains-in-enclosure',
        'gate',
        ['outside'],
        kind === 'mains-in-enclosure'
          ? 'Mains enters the enclosure of the panel.'
          : "The panel's transformer is wired to the mains for good.",
        'A licensed electrician isolates it, proves it dead and signs before the enclosure is opened.',
      ),
      ...(kind === 'hard-wired-transformer'
        ? [ownFeed('A licensed electrician removes it, or leaves it isolated')]
        : []),
    ];
  return kind === 'plug-in-transformer' ? [ownFeed('Take it away')] : [];
}

function ownFeed(away: string): Finding {
  return finding(
    'own-feed-ac',
    'caution',
    ['outside'],
    "The panel's own transformer gives AC, which destroys a DC board at once.",
    `Never connect it to the board. ${away}; read the new adapter for DC, volts and polarity before it meets the board.`,
  );
}

function signalling({ survey }: Facts): Finding[] {
  const { monitored } = survey.outside;
  const line = telephoneLine(survey);
  const found: Finding[] = [];
  if (mayBeMonitored(survey.outside))
    found.push(
      finding(
        'monitored',
        'gate',
        ['outside'],
        monitored === 'yes'
          ? 'A receiving centre watches this system.'
          : 'Nobody knows whether a receiving centre watches this system; until it is known, one does.',
        'Have it put on test until a stated time before anything is touched, and off test or cancelled in writing after.',
      ),
    );
  if (line !== 'no')
    found.push(
      finding(
        'telephone-line',
        'gate',
        ['outside'],
        line === 'yes'
          ? 'A telephone line ends in the panel: it idles at about 50 V and rings at about 90 V AC.'
          : 'A telephone line may end in the panel: it idles at about 50 V and rings at about 90 V AC.',
        'Take it off at the network interface before its wires are touched, make the line through again and hear the dial tone.',
      ),
    );
  return found;
}

function foreign({ survey }: Facts): Finding[] {
  const found: Finding[] = [];
  const { otherFeeds } = survey.outside;
  if (survey.supplies.length > 0 || otherFeeds !== 'none')
    found.push(
      finding(
        'foreign-supply',
        'gate',
        survey.supplies.length > 0 ? survey.supplies.map(({ id }) => id) : ['outside'],
        survey.supplies.length > 0
          ? `${listed(survey.supplies.map(({ id, place }) => (place ? `${id} (${place})` : id)))} can feed this wiring beside the panel.`
          : otherFeeds === 'present'
            ? 'Something beside the panel feeds this wiring.'
            : 'Nobody knows whether anything beside the panel feeds this wiring; until it is known, something does.',
        'Find each, switch it off and prove every conductor dead; a second source is a second step.',
      ),
    );
  const outputs = survey.outputs.filter(({ voltage }) => voltage !== 'extra-low');
  if (outputs.length > 0)
    found.push(
      finding(
        'output-mains',
        'gate',
        outputs.flatMap(({ terminals }) => terminals.map((terminal) => `old:${terminal}`)),
        `${listed(outputs.map(({ drives }) => drives))} ${outputs.some(({ voltage }) => voltage === 'mains') ? 'is switched at mains voltage' : 'may be switched at mains voltage'} by the panel.`,
        'A licensed electrician isolates it, proves it dead and disconnects it; until then nobody touches those screws.',
      ),
    );
  return found;
}

function surroundings({ survey, boards }: Facts): Finding[] {
  if (survey.panel.enclosure !== 'metal') return [];
  const wireless = boards.filter(
    ({ network }) => network === 'wireless' || (network === 'either' && survey.network.kind === 'wireless'),
  );
  if (wireless.length === 0) return [];
  return [
    finding(
      'wireless-in-metal',
      'caution',
      wireless.map(({ id }) => id),
      `${listed(wireless.map(({ id }) => id))} speaks by radio, and the metal enclosure shuts that in.`,
      'Mount the board outside the metal, or its aerial, and see it on the network with the door closed.',
    ),
  ];
}
