import { type Choice, card, choice, number, who } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';

const RECORD = 'electrician.record';
const FOUND = 'electrician.inside';

/** Where mains is or may be inside, an electrician is on record before the enclosure is opened. */
export function mainsRecord(facts: Facts, waitsFor: readonly string[]): Step[] {
  if (!facts.mainsFed) return [];
  return [
    card('survey', {
      id: RECORD,
      title: 'Have a licensed electrician isolate the mains feed, and record who did',
      why: 'Mains is or may be inside the enclosure, so it stays shut until this is recorded.',
      cautions: cautions('mains-inside', 'local-rules'),
      acts: [{ do: 'isolate', source: 'feed' }],
      waitsFor,
      about: ['feed'],
      proof: signed([]),
    }),
  ];
}

/**
 * Mains that nobody expected, or that nobody can rule out, shuts the lid again. It is not unsaid by another answer:
 * an electrician signs for what it is, a correction says how the panel is fed, or the look inside is reopened with a
 * reason.
 */
export function mainsFound(facts: Facts): Step[] {
  if (facts.mainsFed) return [];
  return [
    card('survey', {
      id: FOUND,
      title: 'Shut the lid, and have a licensed electrician isolate what mains is inside, and record who did',
      why: 'Mains was seen inside, or cannot be ruled out. No hand goes in until this is recorded.',
      cautions: cautions('mains-inside', 'local-rules'),
      waitsFor: ['survey.open'],
      onlyIf: [{ step: 'survey.open', options: ['seen', 'not-sure'] }],
      about: ['feed', 'panel'],
      proof: signed([['extra-low', 'Found that it is extra-low voltage', 'pass']]),
    }),
  ];
}

/** What a hand in the enclosure waits for. */
export function enclosureOpen(facts: Facts): string[] {
  return ['survey.open', ...mainsFound(facts).map((step) => step.id)];
}

/**
 * What is decided about people and noise waits for the look inside, but where mains feeds the panel: there the lid stays
 * shut until an electrician has isolated it, and that takes the power away, so all of it comes before.
 */
export function decided(facts: Facts): string[] {
  return facts.mainsFed ? ['survey.outside'] : enclosureOpen(facts);
}

/** Live readings are taken only where a plug feeds the panel: a voltage that is wildly off stops all that follows. */
export function baselineWaits(facts: Facts): string[] {
  return facts.mainsFed ? [] : ['survey.baseline'];
}

function signed(more: readonly Choice[]): Step['proof'] {
  return [
    who('electrician', 'Name of the electrician', []),
    number('licence', 'Licence number of the electrician'),
    choice('state', 'What the electrician did', [
      ['locked', 'Isolated, locked off and proved dead', 'pass'],
      ['removed', 'Removed the feed and made it safe', 'pass'],
      ...more,
      [
        'not-yet',
        'Nothing yet',
        'fail',
        'The lid stays shut, and no hand goes in. A licensed electrician isolates, proves and signs; nothing else opens this.',
      ],
    ]),
    number('lock', 'Number on the lock or tag, or 0 where the feed is removed'),
  ];
}
