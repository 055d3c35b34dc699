import { isOver, isUnder } from '../../electrical/limit.ts';
import type { Board } from '../../site/board.ts';
import { maySoundUnnamed, ownBattery } from '../../site/outside.ts';
import type { Sounder } from '../../site/survey.ts';
import { sounderFit } from '../connections/sounder-ends.ts';
import type { Finding } from '../plan.ts';
import { supplyLoads } from '../supply/loads.ts';
import { leastMend } from '../supply/remedy.ts';
import { type Facts, finding } from './facts.ts';
import { shortSays } from './supply.ts';
import { amps, beyondWords } from './words.ts';

/** A sounder must sound when it should, stop when it must, and not sound while somebody stands beside it. */
export function sounderFindings(facts: Facts): Finding[] {
  return [
    ...batteries(facts),
    ...facts.survey.sounders.flatMap((sounder) => [
      ...holdOff(sounder),
      ...sense(facts, sounder),
      ...voltage(facts, sounder),
    ]),
    ...facts.feeds.flatMap(({ board, sounders }) => (sounders.length > 0 ? output(facts, board) : [])),
  ];
}

function batteries({ survey }: Facts): Finding[] {
  const doubtful = survey.sounders.filter((sounder) => ownBattery(sounder, survey) !== 'no');
  const about = doubtful.map(({ id }) => id);
  if (about.length === 0 && !maySoundUnnamed(survey)) return [];
  const known =
    about.length > 0
      ? doubtful.map((sounder) => ownBattery(sounder, survey))
      : [survey.outside.sounderBattery];
  const sure = known.includes('yes');
  return [
    finding(
      'sounder-own-battery',
      'gate',
      about.length > 0 ? about : ['outside'],
      sure
        ? "A sounder has a battery of its own: cut off from the panel it sounds by itself, over 100 dB at arm's length."
        : 'A sounder may have a battery of its own, and then sounds by itself as soon as it is cut off.',
      'Decide before power-down how it is kept quiet, from a firm stand, with ears protected.',
    ),
  ];
}

function holdOff(sounder: Sounder): Finding[] {
  const needs =
    sounder.wiring === 'hold-off' || sounder.holdOffAmps !== null || sounder.trigger.endsWith('-removed');
  if (!needs) return [];
  return [
    finding(
      'sounder-needs-hold-off',
      'gate',
      [sounder.id],
      `${sounder.name} is held quiet by a voltage that must never fail, not even while wires change places.`,
      'Keep its hold-off fed through the changeover, or make it safe at the sounder first.',
      sounder.holdOffAmps === null ? {} : { holdOffAmps: sounder.holdOffAmps },
    ),
  ];
}

function sense({ feeds }: Facts, sounder: Sounder): Finding[] {
  const board = feeds.find(({ sounders }) => sounders.includes(sounder))?.board;
  const fit = board ? sounderFit(sounder, board) : 'no-output';
  if (fit === 'fits') return [];
  const wants = `${sounder.name} sounds on ${sounder.trigger.replace('-', ' ')}`;
  const [says, act] = {
    'no-output': [
      `${sounder.name} finds no output for a sounder on any board.`,
      'Give it a relay on an output the receiving side switches, or leave it out and say so in writing.',
    ],
    unknown: [
      `Nobody knows what makes ${sounder.name} sound.`,
      'Find out from its label or with a meter on its trigger before its wires are lifted, and correct the survey.',
    ],
    'needs-relay': [
      `${wants}, and ${board?.id}'s output is ${board?.sounder?.sense.replace('-', ' ')}.`,
      'Put a relay with a changeover contact between, with a diode (1N4001 to 1N4007) across its coil, cathode to positive.',
    ],
  }[fit];
  return [finding('sounder-sense-unfit', 'gate', [sounder.id, ...(board ? [board.id] : [])], says!, act!)];
}

/** What arrives at a sounder while every sounder rings, in the worst copper: it may sound faintly, or not at all. */
function voltage({ survey, feeds, supply }: Facts, sounder: Sounder): Finding[] {
  const feed = feeds.find(({ sounders }) => sounders.includes(sounder));
  const arriving = supply.flatMap(({ sounders }) => sounders).find(({ id }) => id === sounder.id);
  if (!feed || !arriving || !isUnder(arriving.worstVolts, arriving.minimumVolts)) return [];
  const load = supplyLoads(survey, feed).find(({ id }) => id === sounder.id)!;
  const isSure = isUnder(arriving.bestVolts, arriving.minimumVolts);
  const mend = leastMend(survey, feed, load);
  const { mainsVolts, batteryEndVolts, worstVolts, bestVolts, minimumVolts } = arriving;
  return [
    finding(
      'detector-undervoltage',
      'caution',
      [sounder.id, sounder.cable],
      shortSays(sounder.name, arriving, isSure),
      mend.says,
      { mainsVolts, batteryEndVolts, worstVolts, bestVolts, minimumVolts, ...mend.figures },
    ),
  ];
}

function output({ supply }: Facts, board: Board): Finding[] {
  if (board.sounder === null) return [];
  const found: Finding[] = [];
  const ringing = supply.find((one) => one.board === board.id)!.sounderAmps;
  if (isOver(ringing, board.sounder.amps))
    found.push(
      finding(
        'sounder-overloaded',
        'block',
        [board.id],
        `The sounder output of ${board.id} gives ${amps(board.sounder.amps)}, and its sounders draw ${beyondWords(ringing, board.sounder.amps, 'amps')}.`,
        `Switch them through a relay rated ${amps(ringing * 1.5)} or more, fed over a fuse, with a diode (1N4001 to 1N4007) across its coil, cathode to positive.`,
        { sounderAmps: ringing, sounderMaximumAmps: board.sounder.amps, relayAmps: ringing * 1.5 },
      ),
    );
  if (board.sounder.limitSeconds === null)
    found.push(
      finding(
        'sounder-no-cutoff',
        'gate',
        [board.id],
        `Nothing in ${board.id} stops a sounder that has once started.`,
        'Set a cut-off at the receiving side: local rules allow 5 to 20 minutes, 15 is the most EN 50131-1 knows (from memory).',
      ),
    );
  return found;
}
