import type { Act } from '../../wiring/act.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import { CANNOT, card, choice } from '../card.ts';
import { type CautionId, cautions } from '../cautions.ts';
import { bare, type Facts, landsAt, listed } from '../facts.ts';
import type { Step } from '../step.ts';
import { freeEndSweeps } from '../voltage.ts';
import { panelStep } from './clear-panel.ts';
import { deadHeads } from './life-safety.ts';
import { isLifted, liftWaits } from './measure.ts';
import { resistorSteps } from './resistors.ts';
import { keptLive, withExceptions } from './sounder.ts';
import { splitSteps } from './split.ts';

/** Stage 10: what is left under screws is lifted, what is given up comes away, what stays is insulated. */
export function clearSteps(facts: Facts): Step[] {
  const lifting = [
    ...strip(facts),
    ...aux(facts),
    ...sounders(facts),
    ...keypads(facts),
    ...telephone(facts),
  ];
  const ends = looseEnds(facts);
  const swept = voltage(facts, lifting);
  const before = [...lifting, ...ends, ...swept];
  return [...before, panelStep(facts, before, deadHeads(facts))];
}

/** Everything is off its screw: what the old board or a join shorted until now shows before it meets a new terminal. */
function voltage(facts: Facts, lifting: readonly Step[]): Step[] {
  const conductors = facts.conductors.filter((one) => landsAt(facts, one) !== null).map((one) => one.id);
  if (conductors.length === 0) return [];
  const loops = facts.loops.map((loop) => `measure.${loop.id}`);
  const parted = splitSteps(facts).map((step) => step.id);
  const live = keptLive(facts);
  return [
    card('clear', {
      id: 'clear.voltage',
      title: `Look for a voltage on the ${conductors.length} wires that will be landed, each by itself`,
      why: 'What the old board shorted shows only now, and would come onto the new one.',
      cautions: cautions('voltage-hidden', 'voltage-behind-relay', 'induced-voltage'),
      needs: 'dead',
      waitsFor: [...lifting.map((step) => step.id), ...loops, ...parted],
      about: ['supply'],
      proof: freeEndSweeps(conductors).map((proof) => withExceptions(proof, live)),
    }),
  ];
}

const named = (one: WiredConductor) =>
  `${one.colour} of ${one.cable}${one.screw === null ? '' : `, screw ${bare(one.screw)}`}`;

function liftCard(
  facts: Facts,
  given: {
    readonly id: string;
    readonly title: string;
    readonly why: string;
    readonly cautions: readonly CautionId[];
    readonly conductors: readonly WiredConductor[];
    readonly waitsFor: readonly string[];
    readonly about: readonly string[];
    readonly more?: Step['proof'];
  },
): Step {
  const lifted = given.conductors.filter((one) => isLifted(facts, one));
  return card('clear', {
    id: given.id,
    title: given.title,
    why: given.why,
    cautions: cautions(...given.cautions),
    acts: actsOf(facts, given.conductors),
    needs: 'dead',
    waitsFor: [...liftWaits(facts, lifted), ...given.waitsFor],
    about: given.about,
    proof: [
      ...given.conductors.map((one) =>
        choice(one.id, named(one), [
          ['insulated', `${CAME_OFF[howFreed(facts, one)]}its end insulated`.replace(/^i/, 'I'), 'pass'],
          [
            'no-label',
            'It has no label',
            'fail',
            'Leave it under its screw. Reopen its label card, label it, and then lift it.',
          ],
          CANNOT,
        ]),
      ),
      ...(given.more ?? []),
    ],
  });
}

function actsOf(facts: Facts, conductors: readonly WiredConductor[]): Act[] {
  return conductors.flatMap((one) => facts.plan.work.clear[one.id] ?? []);
}

const CAME_OFF = { lift: 'Lifted, ', part: 'Out of its splice, ', none: '' } as const;

/** What frees it on this card: from its screw, from its splice, or nothing, for it is free by then. */
function howFreed(facts: Facts, one: WiredConductor): keyof typeof CAME_OFF {
  const acts = actsOf(facts, [one]);
  if (acts.some((act) => act.do === 'lift')) return 'lift';
  return acts.some((act) => act.do === 'part') ? 'part' : 'none';
}

function isParked(facts: Facts, one: WiredConductor): boolean {
  const to = facts.connection(one.id)?.to;
  return one.atPanel && !facts.held.conductors.has(one.id) && to !== undefined && 'parked' in to;
}

const SUPPLY_USES: ReadonlySet<string> = new Set(['aux-positive', 'aux-negative']);
const isInLoop = (facts: Facts, one: WiredConductor) => facts.loops.some((loop) => loop.id === one.zone);
const telephoneCables = (facts: Facts) =>
  new Set(facts.conductors.filter((one) => one.use === 'telephone').map((one) => one.cable));

/** Wires at the panel that come away with the device at the other end of their cable. */
function ofDevice(facts: Facts, cable: string): WiredConductor[] {
  return facts.conductors.filter((one) => one.cable === cable && one.atPanel && !isInLoop(facts, one));
}

function deviceCables(facts: Facts): Set<string> {
  const { keypads, sounders } = facts.plan.survey;
  return new Set([...keypads, ...sounders].map((one) => one.cable).concat(...telephoneCables(facts)));
}

/** Conductors under screws that belong to loops and detectors, and were not lifted to read a loop. */
function remaining(facts: Facts): WiredConductor[] {
  const devices = deviceCables(facts);
  const legs = new Set(
    facts.plan.zones
      .filter((zone) => facts.loops.some((loop) => loop.id === zone.id))
      .flatMap((zone) => zone.lift.conductors),
  );
  return facts.conductors.filter(
    (one) => isLifted(facts, one) && !legs.has(one.id) && (isInLoop(facts, one) || !devices.has(one.cable)),
  );
}

function strip(facts: Facts): Step[] {
  const conductors = remaining(facts).filter((one) => !SUPPLY_USES.has(one.use));
  if (conductors.length === 0) return [];
  const zones = [...new Set(conductors.flatMap((one) => (one.zone === null ? [] : [one.zone])))];
  const about = new Set(zones);
  const read = [...resistorSteps(facts), ...splitSteps(facts)].filter((step) =>
    about.has(step.about[0] ?? ''),
  );
  return [
    liftCard(facts, {
      id: 'clear.strip',
      title: `Take off the ${conductors.length} loop wires that are still on the strip`,
      why: 'They stayed as the meter’s second point until all loops were read.',
      cautions: ['shared-screw'],
      conductors,
      waitsFor: [
        ...facts.loops.filter((loop) => about.has(loop.id)).map((loop) => `measure.${loop.id}`),
        ...read.map((step) => step.id),
      ],
      about: zones,
    }),
  ];
}

function aux(facts: Facts): Step[] {
  const conductors = remaining(facts).filter((one) => SUPPLY_USES.has(one.use));
  if (conductors.length === 0) return [];
  const screws = [...new Set(conductors.map((one) => bare(one.screw ?? '')))];
  const stay = [...facts.held.conductors].filter((id) =>
    screws.includes(bare(facts.conductor(id)?.screw ?? '')),
  );
  return [
    liftCard(facts, {
      id: 'clear.aux',
      title: `Lift the ${conductors.length} supply wires from ${screws.length === 1 ? 'screw' : 'screws'} ${listed(screws)}`,
      why:
        stay.length === 0
          ? 'All of a shared screw come off together, each with its label.'
          : `Only the wires named here come off. ${listed(stay)} under the same screws are life safety, and stay.`,
      cautions: stay.length === 0 ? ['shared-screw'] : ['life-safety', 'shared-screw'],
      conductors,
      waitsFor: [],
      about: ['aux', ...new Set(conductors.map((one) => one.cable))],
    }),
  ];
}

function sounders(facts: Facts): Step[] {
  return facts.plan.survey.sounders.flatMap((sounder) => {
    const conductors = ofDevice(facts, sounder.cable);
    if (conductors.length === 0) return [];
    return [
      liftCard(facts, {
        id: `clear.sounder.${sounder.id}`,
        title: `Lift the ${conductors.length} wires of ${sounder.name}, and write down which did what`,
        why: 'The sense of its trigger is read off the old screws now or never.',
        cautions: facts.selfPowered.includes(sounder)
          ? ['sounder-battery', 'shared-screw']
          : ['shared-screw'],
        conductors,
        waitsFor: [],
        about: [sounder.id, sounder.cable],
        more: [
          choice('trigger', 'What makes it sound, by its old screws', [
            ['supply', 'Voltage on its pair', 'pass'],
            ['positive-applied', 'A positive that is applied', 'pass'],
            ['positive-removed', 'A positive that is taken away', 'pass'],
            ['negative-applied', 'A negative that is applied', 'pass'],
            ['negative-removed', 'A negative that is taken away', 'pass'],
            ['not-sure', 'Not sure: settled by the sounder test', 'pass'],
          ]),
        ],
      }),
    ];
  });
}

function keypads(facts: Facts): Step[] {
  return facts.plan.survey.keypads.flatMap((keypad) => {
    if (facts.held.ids.has(keypad.id)) return [];
    const conductors = ofDevice(facts, keypad.cable);
    if (conductors.length === 0) return [];
    return [
      liftCard(facts, {
        id: `clear.keypad.${keypad.id}`,
        title: `Lift and insulate the ${conductors.length} wires of keypad ${keypad.id}`,
        why: 'It has nothing to talk to any more. Its run may serve again.',
        cautions: ['shared-screw'],
        conductors,
        waitsFor: [],
        about: [keypad.id, keypad.cable],
        more: [
          choice('keypad', 'The keypad', [
            ['removed', 'Taken off the wall', 'pass'],
            ['stays', 'Stays on the wall, dead, and says so', 'pass'],
          ]),
        ],
      }),
    ];
  });
}

function telephone(facts: Facts): Step[] {
  const cables = telephoneCables(facts);
  const conductors = [...cables].flatMap((cable) => ofDevice(facts, cable));
  if (conductors.length === 0) return [];
  return [
    liftCard(facts, {
      id: 'clear.telephone',
      title: 'Take the panel out of the telephone line and make the line through again',
      why: 'The panel may have sat in series with every telephone here: emergency calls go over it.',
      cautions: ['telephone-ringing', 'emergency-calls'],
      conductors,
      waitsFor: [],
      about: ['telephone', ...cables],
      more: [
        choice('line', 'The line, plugged in again at its interface and away from the panel', [
          ['dial-tone', 'Dial tone heard, panel side insulated', 'pass'],
          ['no-line', 'There is no service on it any more', 'pass'],
          [
            'dead',
            'No dial tone',
            'fail',
            'Emergency calls go over this line. Make it through again now; if that does not help, call whoever runs the line.',
          ],
        ]),
      ],
    }),
  ];
}

/** Spare and given-up conductors that no other card insulates. */
function looseEnds(facts: Facts): Step[] {
  const devices = deviceCables(facts);
  const lifted = new Set(remaining(facts).map((one) => one.id));
  const conductors = facts.conductors.filter(
    (one) => isParked(facts, one) && !lifted.has(one.id) && (isInLoop(facts, one) || !devices.has(one.cable)),
  );
  if (conductors.length === 0) return [];
  return [
    card('clear', {
      id: 'clear.ends',
      title: `Insulate the ${conductors.length} wires that go nowhere`,
      why: 'A bare end finds the one place where it does harm.',
      acts: actsOf(facts, conductors),
      needs: 'dead',
      hard: true,
      waitsFor: [
        ...new Set(
          conductors.flatMap((one) =>
            one.zone === null
              ? []
              : facts.loops.some((loop) => loop.id === one.zone)
                ? [`measure.${one.zone}`]
                : [],
          ),
        ),
      ],
      about: [...new Set(conductors.map((one) => one.cable))],
      proof: conductors.map((one) =>
        choice(one.id, named(one), [['insulated', 'Its end insulated', 'pass'], CANNOT]),
      ),
    }),
  ];
}
