import type { OtherSupply } from '../../site/survey.ts';
import { CANNOT, card, choice, number, when, words } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed } from '../facts.ts';
import type { Step } from '../step.ts';

/** Power supplies elsewhere in the building that feed some of this wiring: off and kept off while it is worked on. */
export function otherSupplies(facts: Facts): Step[] {
  return facts.plan.survey.supplies.map((supply) =>
    card('power-down', {
      id: `isolate.${supply.id}`,
      title: `Have the power supply ${supply.id} (${supply.place}) switched off, and kept off`,
      why: `It feeds ${listed(supply.feeds) || 'wiring of this system'} from elsewhere.`,
      cautions: cautions('several-sources', 'mains-inside'),
      acts: [{ do: 'isolate', source: `supply:${supply.id}` }],
      needs: 'isolating',
      about: [supply.id],
      proof: [
        words('where', 'Where its plug is, or what keeps it off', [
          'unplugged and tagged',
          'switched off by its electrician',
        ]),
        number('tag', 'Number of the tag on it'),
        ...when(
          supply.battery !== 'no',
          choice('battery', 'Its own battery', [
            ['no-mains', 'Its box holds no mains: lead off and insulated', 'pass'],
            ['electrician', 'The electrician who opened its box took the lead off and insulated it', 'pass'],
            ['none', 'There is none', 'pass'],
            [
              'shut',
              'Its box holds mains, or may, and no electrician is here',
              'fail',
              'Leave its box shut. A licensed electrician opens it, and takes the lead of its battery off.',
            ],
          ]),
        ),
      ],
    }),
  );
}

/** Those that go on feeding detectors of the new boards: they come on again after the boards. */
export function servingSupplies(facts: Facts): OtherSupply[] {
  const moved = new Set(facts.circuits.flatMap((circuit) => circuit.detectors));
  return facts.plan.survey.supplies.filter(({ feeds }) => feeds.some((id) => moved.has(id)));
}

export const supplyOnStep = ({ id }: OtherSupply) => `power.supply.${id}`;

/** A step for every other power supply that serves what is moved: switched on again once the boards stand. */
export function otherSuppliesOn(facts: Facts): Step[] {
  return servingSupplies(facts).map((supply) =>
    card('power-up', {
      id: supplyOnStep(supply),
      title: `Have the power supply ${supply.id} (${supply.place}) switched on again`,
      why: `It feeds ${listed(supply.feeds)}, which no board does.`,
      cautions: cautions('energise-check', 'mains-inside'),
      acts: [{ do: 'connect-source', source: `supply:${supply.id}`, board: null }],
      needs: 'energised',
      hard: false,
      about: [supply.id, ...supply.feeds],
      proof: [
        choice('detectors', `What it feeds: ${listed(supply.feeds)}`, [
          ['running', 'Runs again', 'pass'],
          [
            'dead',
            'Shows no sign of life',
            'fail',
            'Have it switched off again, and have whoever answers for it look at it. Look yourself at nothing but its extra-low-voltage wires, once dead is proved.',
          ],
          CANNOT,
        ]),
        ...when(
          supply.battery !== 'no',
          choice('battery', 'Its own battery', [
            ['on', 'On again, by whoever may open its box', 'pass'],
            ['none', 'There is none', 'pass'],
            [
              'off',
              'Still off',
              'fail',
              'What it feeds goes dead with the mains. Have its lead put on by whoever may open its box.',
            ],
          ]),
        ),
      ],
    }),
  );
}
