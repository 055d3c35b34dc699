import { telephoneLine } from '../../site/outside.ts';
import { CANNOT, card, choice, count, NOT_SURE, number, reading, when, words } from '../card.ts';
import { cautions } from '../cautions.ts';
import { bare, type Facts, lifeSafetyRecords, listed } from '../facts.ts';
import type { Proof, Step } from '../step.ts';
import { deadSweeps, knownSource } from '../voltage.ts';
import { otherSupplies, servingSupplies } from './other-supplies.ts';
import { outputWaits } from './plan.ts';
import { inputsStep } from './prepare.ts';
import { keptLive, sounderSteps, sounderWaits, withExceptions } from './sounder.ts';

/** Stage 5: every source off and kept off, each a step of its own, and dead proved with a proved instrument. */
export function powerDownSteps(facts: Facts): Step[] {
  const isolations = [
    ...batteries(facts),
    ...telephone(facts),
    ...otherSupplies(facts),
    ...foreignFeeds(facts),
  ];
  const proofWaits = isolations.map((step) => step.id);
  return [...sounderSteps(facts), isolate(facts), ...isolations, prove(facts, proofWaits), proveShort(facts)];
}

function isolate(facts: Facts): Step {
  const { boards, survey } = facts.plan;
  const adapters = boards.map((board) => `adapter:${board.id}`);
  const batteries = boards.filter((board) => board.battery).map((board) => `board-battery:${board.id}`);
  const feed = facts.mainsFed ? [] : ['feed'];
  const others = servingSupplies(facts);
  return card('power-down', {
    id: 'supply.isolate',
    title: facts.mainsFed
      ? 'Take adapters and fused battery leads off and keep them off; see the electrician’s lock in place'
      : 'Take every feed off and keep it off: old feed, adapters, fused battery leads',
    why: 'A plug or a lock that others cannot undo is what keeps the wiring dead while hands are on it.',
    cautions: cautions('several-sources', 'unprotected', 'battery-charger'),
    acts: [...feed, ...adapters, ...batteries, ...others.map(({ id }) => `supply:${id}`)].map((source) => ({
      do: 'isolate' as const,
      source,
    })),
    waitsFor: [
      'survey.inside',
      'plan.accept',
      'notify.occupants',
      ...boards.map(inputsStep),
      ...(facts.mayBeMonitored ? ['centre.on-test'] : []),
      ...lifeSafetyRecords(facts),
      ...outputWaits(facts),
      ...sounderWaits(facts),
    ],
    repeatable: true,
    effect: 'isolate',
    about: ['supply'],
    proof: [
      facts.mainsFed
        ? number('feed', 'Number of the electrician’s lock or tag, seen in place now')
        : words('feed', 'Where the plug of the old feed is now', [
            'in my pocket',
            'bagged and tagged',
            'locked away',
          ]),
      ...when(!facts.mainsFed, number('tag', 'Number of the tag on that plug')),
      ...boards.map((board) =>
        words(`adapter-${board.id}`, `Where the plug of the adapter of ${board.id} is now`, [
          'in its box',
          'in my pocket',
          'bagged and tagged',
        ]),
      ),
      ...boards
        .filter((board) => board.battery)
        .map((board) =>
          choice(`battery-${board.id}`, `Fused battery lead of ${board.id}`, [
            ['not-fitted', 'Not fitted yet', 'pass'],
            ['off', 'Off, its end insulated', 'pass'],
            CANNOT,
          ]),
        ),
      ...others.map(({ id, place }) =>
        choice(`supply-${id}`, `Power supply ${id} (${place})`, [
          ['off', 'Off and tagged', 'pass'],
          ['next', 'Its own card comes next', 'pass'],
          CANNOT,
        ]),
      ),
      ...survey.sounders.map((sounder) =>
        choice(`sounder-${sounder.id}`, `Sounder ${sounder.name}`, [
          ['as-planned', 'Quiet, made safe as planned, its battery off', 'pass'],
          ['sounding', 'It sounds, as was accepted', 'pass'],
          [
            'unexpected',
            'It sounds, unexpectedly',
            'fail',
            'Ears covered, nobody on a ladder. Stop it the way that was chosen, and look at that choice again.',
          ],
        ]),
      ),
    ],
  });
}

function batteries(facts: Facts): Step[] {
  const { batteries: fitted, earthed } = facts.plan.survey.panel;
  if (fitted.length === 0) return [noBattery()];
  return fitted.map((battery, place) => {
    const name = `battery:${place + 1}`;
    return card('power-down', {
      id: batteryStep(place),
      title: `Take the leads off standby battery ${place + 1}, negative first, and cover both terminals`,
      why: 'It feeds the panel on its own, and a bare terminal waits for a dropped tool.',
      cautions: cautions(
        'battery-short',
        'battery-order',
        'acid-eye',
        ...(earthed === 'no' ? [] : (['bonding'] as const)),
      ),
      acts: [{ do: 'isolate', source: name }],
      needs: 'isolating',
      about: [name],
      proof: [
        choice('metal', 'Rings, watch and chain', [
          ['off', 'Off', 'pass'],
          [
            'on',
            'Cannot be taken off',
            'fail',
            'Touch no battery. Somebody without metal on the hands does this step.',
          ],
        ]),
        choice('negative', 'Negative lead', [['off', 'Off first, its end insulated', 'pass'], CANNOT]),
        choice('positive', 'Positive lead', [['off', 'Off, its end insulated', 'pass'], CANNOT]),
        choice('covers', 'Terminals of the battery', [
          ['covered', 'Both covered', 'pass'],
          [
            'bare',
            'Nothing to cover them with',
            'fail',
            'Lay nothing down and leave no tool near. Fetch tape or caps, and cover both terminals first.',
          ],
        ]),
        number('date', 'Year on the battery, or 0 where there is none', offersOf(battery.installed)),
        reading({
          field: 'volts',
          of: 'volts-dc',
          label: 'The battery by itself',
          between: [`${name}+`, `${name}-`],
          min: 11.5,
          nominal: 12.8,
          max: 14,
          usable: { min: -30, max: 30 },
          follows: 'No battery gives that: another source stands on its leads. Touch nothing, and find it.',
        }),
      ],
    });
  });
}

/** The card of a standby battery of the old panel, by its place in the survey, from 0. */
export const batteryStep = (place: number) => `isolate.battery.${place + 1}`;

const offersOf = (installed: string | null) => (installed === null ? [] : [installed]);

function noBattery(): Step {
  return card('power-down', {
    id: 'isolate.battery',
    title: 'Look for a standby battery in and around the panel',
    why: 'The survey knows of none. One that was overlooked keeps the wiring live.',
    cautions: cautions('battery-short'),
    needs: 'isolating',
    about: ['battery'],
    proof: [
      choice('battery', 'What you found', [
        ['none', 'None, and no leads for one', 'pass'],
        ['leads', 'Leads without a battery, ends insulated', 'pass'],
        [
          'found',
          'A battery',
          'fail',
          'It keeps the wiring live. Correct the survey (panel.batteries): its card then comes first.',
        ],
      ]),
    ],
  });
}

function noTelephone(): Step {
  return card('power-down', {
    id: 'isolate.telephone',
    title: 'Look for a telephone line that ends in the panel',
    why: 'Nobody knows how the panel calls out. A line that was overlooked rings, whatever is unplugged here.',
    cautions: cautions('telephone-ringing'),
    needs: 'isolating',
    about: ['telephone'],
    proof: [
      choice('line', 'What you found', [
        ['none', 'None: each wire in the panel is known as something else', 'pass'],
        [
          'found',
          'A telephone line',
          'fail',
          'It keeps its wires live. Touch none of them and correct the survey (outside.signalling: telephone): its own card then comes first.',
        ],
        NOT_SURE,
      ]),
    ],
  });
}

function telephone(facts: Facts): Step[] {
  const { survey } = facts.plan;
  const line = telephoneLine(survey);
  if (line === 'no') return [];
  if (line === 'unknown') return [noTelephone()];
  const screws = survey.panel.terminals.filter((one) => one.role === 'telephone');
  const [a = 'telephone', b = 'telephone'] = screws.map((one) => `old:${one.number}`);
  return [
    card('power-down', {
      id: 'isolate.telephone',
      title: 'Unplug the telephone line at its network interface',
      why: 'It rings when somebody calls, whatever is unplugged here.',
      cautions: cautions('telephone-ringing', 'emergency-calls'),
      acts: [{ do: 'isolate', source: 'telephone' }],
      needs: 'isolating',
      about: ['telephone'],
      proof: [
        words('where', 'Where it is unplugged', ['at the network interface', 'at the wall socket']),
        reading({
          field: 'dc',
          of: 'volts-dc',
          label: `Telephone pair at the panel, ${listed(screws.map((one) => one.number)) || 'its two wires'}`,
          between: [a, b],
          min: -0.5,
          nominal: 0,
          max: 0.5,
          usable: { min: -0.5, max: 0.5 },
          danger: true,
          follows:
            'The line is still connected here: at rest it stands at 40 to 60 V DC, and it rings with AC that can shock. Unplug it at its interface, nearest to the street, and read again.',
        }),
      ],
    }),
  ];
}

function foreignFeeds(facts: Facts): Step[] {
  const { outside, supplies } = facts.plan.survey;
  if (outside.otherFeeds === 'none' || supplies.length > 0) return [];
  return [
    card('power-down', {
      id: 'isolate.foreign',
      title: 'Follow every cable that leaves the enclosure as far as it can be seen',
      why: 'Nobody could say whether another supply feeds this wiring.',
      cautions: cautions('several-sources'),
      needs: 'isolating',
      about: ['feed'],
      proof: [
        choice('found', 'What you found', [
          ['none', 'None leads to another supply', 'pass'],
          [
            'another',
            'One does',
            'fail',
            'It keeps the wiring live. Correct the survey (supplies): its card then comes first.',
          ],
          NOT_SURE,
        ]),
        count('cables', 'Cables followed: how many'),
      ],
    }),
  ];
}

/** Posts and screws of every supply, old and new: a floating source shows only there. */
function railsOf(facts: Facts): string[] {
  const supplied = new Set(['ac', 'battery', 'aux-positive', 'aux-negative', 'sounder']);
  const old = facts.plan.survey.panel.terminals
    .filter((one) => supplied.has(one.role))
    .map((one) => `old:${bare(one.number)}`);
  const boards = facts.plan.boards.flatMap((board) => [
    `${board.id}:${board.aux.positive}`,
    `${board.id}:${board.aux.negative}`,
  ]);
  return [...old, ...boards];
}

/** An enclosure that nothing earths has one reference: the negative. Once the panel is out the board's takes its place. */
function referencesOf(facts: Facts): { readonly panel: string; readonly panelGone: string } {
  const earth = facts.plan.survey.panel.earthed === 'no' ? '' : ' and against earth';
  const [first] = facts.plan.boards;
  const negative = first === undefined ? 'the new board’s negative' : `${first.id}:${first.aux.negative}`;
  return { panel: `the panel’s negative${earth}`, panelGone: `${negative}${earth}` };
}

/** The sweeps of a proof of dead: over all places of the panel side as it is when the card is read. */
function provingSweeps(facts: Facts) {
  const rails = railsOf(facts);
  const against = referencesOf(facts);
  const live = keptLive(facts);
  const tours = (proofs: readonly Proof[]) =>
    proofs.map((proof) =>
      proof.kind === 'sweep' ? { ...withExceptions(proof, live), tour: { rails, against } } : proof,
    );
  const { dc, ac } = deadSweeps(rails.length > 0 ? rails : ['earth'], against.panel);
  return { dc: tours(dc), ac: tours(ac) };
}

function prove(facts: Facts, waitsFor: readonly string[]): Step {
  const { dc, ac } = provingSweeps(facts);
  return card('power-down', {
    id: 'supply.prove',
    title: 'Prove dead: known source, every rail and every conductor not yet landed, known source again',
    why: 'Isolation that was not measured is hope.',
    cautions: cautions('instrument-first', 'induced-voltage', 'telephone-ringing'),
    waitsFor,
    repeatable: true,
    effect: 'prove',
    about: ['supply'],
    proof: [
      ...knownSource('dc').before,
      ...dc,
      ...knownSource('dc').after,
      ...knownSource('ac').before,
      ...ac,
      ...knownSource('ac').after,
    ],
  });
}

function proveShort(facts: Facts): Step {
  const { dc } = provingSweeps(facts);
  return card('power-down', {
    id: 'supply.prove-short',
    title: 'Prove dead again, short: plugs and leads, known source, rails and the next conductors',
    why: 'You were out of reach longer than agreed. Somebody may have plugged something in.',
    cautions: cautions('proof-perishes', 'instrument-first'),
    repeatable: true,
    effect: 'prove-short',
    about: ['supply'],
    proof: [
      words('plugs', 'Where plugs and battery leads are now', ['as I left them, seen', 'in my pocket']),
      ...knownSource('dc').before,
      ...dc,
      ...knownSource('dc').after,
    ],
  });
}
