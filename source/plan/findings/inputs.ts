import { isUnder } from '../../electrical/limit.ts';
import { shareThatFits } from '../grouping/may-share-choice.ts';
import { returnsOverSwitched, type Unit } from '../grouping/units.ts';
import type { Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { beyondWords, listed, seconds } from './words.ts';

/** Does every detector find an input, by itself, that can follow it. */
export function inputFindings(facts: Facts): Finding[] {
  return [
    ...tooFew(facts),
    ...shared(facts),
    ...inField(facts),
    ...pulses(facts),
    ...powers(facts),
    ...tampers(facts),
  ];
}

function tooFew({ boards, units, grouped, survey }: Facts): Finding[] {
  const inputs = boards.reduce((sum, board) => sum + board.inputs.length, 0);
  const shortage = grouped.fewestInputs - inputs;
  if (shortage <= 0) return [];
  const choice = shareThatFits(units, survey.mayShare, inputs);
  const act = choice
    ? `Add a board, or let ${choice.zones.map((set) => listed(set)).join('; ')} share: that fits, at a loss of ${choice.loss}. It is said in the survey, in a line beside zones: mayShare: ${mayShareLine([...survey.mayShare, ...choice.zones])}.`
    : 'Add a board: no way of letting zones share closes the gap.';
  return [
    finding(
      'too-few-inputs',
      'block',
      boards.map(({ id }) => id),
      grouped.fewestBound > inputs
        ? `The site needs ${grouped.fewestInputs} inputs even with every zone whole, and there are ${inputs}.`
        : `No way was found to do with fewer than ${grouped.fewestInputs} inputs, and there are ${inputs}; not every way was weighed.`,
      act,
      {
        needed: grouped.fewestInputs,
        inputs,
        shortage,
        ...(choice ? { mayShare: JSON.stringify(choice.zones), lossThen: choice.loss } : {}),
      },
    ),
  ];
}

/** As it is written in a survey. */
const mayShareLine = (sets: readonly (readonly string[])[]) =>
  `[${sets.map((set) => `[${set.join(', ')}]`).join(', ')}]`;

function shared({ placement, grouped }: Facts): Finding[] {
  const found = placement.placed
    .filter(({ group }) => group.units.length > 1)
    .map(({ group, board, input }) => {
      const ids = group.units.flatMap(({ detectors, zone }) => (detectors.length > 0 ? detectors : [zone]));
      return finding(
        'shared-input',
        'note',
        [`${board.id}/${input.id}`, ...ids],
        `${listed(ids)} share input ${input.id} of ${board.id}: an alarm will not tell which it was.`,
        partedBy(group.units),
        { detectors: ids.length },
      );
    });
  const refused = placement.refused.map((words) => {
    const [who = '', input = ''] = words.split(' ');
    return finding(
      'shared-input',
      'caution',
      [input, who],
      `${who} asks for input ${input}, which is taken by another or does not exist.`,
      'It is laid on another input; correct the survey to settle who gets it.',
    );
  });
  if (grouped.optimal) return [...found, ...refused];
  return [
    ...found,
    ...refused,
    finding(
      'shared-input',
      'note',
      ['grouping'],
      `The grouping loses ${grouped.loss}, and none could lose less than ${grouped.bound}: a better one may exist.`,
      'Look the groups through: so many unlike sets in one zone are not weighed in every way.',
      { loss: grouped.loss, bound: grouped.bound },
    ),
  ];
}

/** What cannot be parted at the panel stays together however many inputs there are. */
function partedBy(units: readonly Unit[]): string {
  const whole = units.map(({ detectors, zone }) => (detectors.length > 0 ? detectors.join(' with ') : zone));
  return `Only another input parts ${listed(whole)}; loopward plan --explain grouping shows what one more changes.`;
}

function inField({ units }: Facts): Finding[] {
  return units
    .filter(({ size, purpose }) => purpose === 'detection' && size > 1)
    .map(({ detectors, zone }) =>
      finding(
        'joined-in-field',
        'note',
        [zone, ...detectors],
        `${listed(detectors)} are joined out in the building and come back on one pair.`,
        'They report as one; a new cable to one of them would part them.',
      ),
    );
}

function pulses({ survey, circuits, boards }: Facts): Finding[] {
  const pulsing = survey.detectors.filter(({ pulse }) => pulse !== 'none' && pulse !== 'unknown');
  return pulsing.flatMap((detector) => {
    const circuit = circuits.find(
      ({ detectors, purpose }) => purpose === 'detection' && detectors.includes(detector.id),
    );
    const board = boards.find(({ id }) => id === circuit?.board);
    if (!board) return [];
    if (detector.pulse === 'needs-analyser')
      return [
        finding(
          'needs-analyser',
          'caution',
          [detector.id],
          `${detector.name} only makes sense through an analyser that counts its pulses, and ${board.id} has none.`,
          "Keep its analyser and take the analyser's relay to the input, or replace the detector.",
        ),
      ];
    if (typeof detector.pulse !== 'number' || !isUnder(detector.pulse, board.responseSeconds)) return [];
    return [
      finding(
        'pulse-too-short',
        'caution',
        [detector.id],
        `${detector.name} opens for ${beyondWords(detector.pulse, board.responseSeconds, 'seconds')}, and ${board.id} reports nothing shorter than ${seconds(board.responseSeconds)}.`,
        'Put a pulse stretcher between, or choose a faster input.',
        { pulseSeconds: detector.pulse, responseSeconds: board.responseSeconds },
      ),
    ];
  });
}

function powers({ survey, lifeSafety }: Facts): Finding[] {
  return survey.detectors.flatMap((detector) => {
    if (lifeSafety.ids.has(detector.id)) return [];
    const found: Finding[] = [];
    if (detector.supply === 'from-loop')
      found.push(
        finding(
          'loop-powered',
          'caution',
          [detector.id],
          `${detector.name} lives on the current of its loop, and a dry input gives none.`,
          'Replace it by one with a supply pair, or fit an interface module that feeds it.',
        ),
      );
    if (detector.control === 'reset' || detector.control === 'set-line')
      found.push(
        finding(
          'reset-lost',
          'caution',
          [detector.id],
          detector.control === 'reset'
            ? `${detector.name} latches until the panel breaks its supply, and the board does not do that.`
            : `${detector.name} follows a set line of the panel, and the board has none.`,
          detector.control === 'reset'
            ? 'Give its supply a switch or relay of its own, or set it to restore by itself.'
            : 'Set it to work without that line, or drive the line from an output.',
        ),
      );
    return found;
  });
}

function tampers({ survey, lifeSafety, field, boards }: Facts): Finding[] {
  return survey.tampers
    .filter(({ id }) => !lifeSafety.zones.has(id))
    .flatMap(({ id, through, keep }) => {
      const withPanel = field.conductorsOf(id).length === 0;
      const isSwitched = returnsOverSwitched({ id, keep }, field, boards);
      if (keep === 'yes' && !withPanel && !isSwitched) return [];
      return finding(
        'tamper-given-up',
        'note',
        [id, ...through],
        withPanel
          ? `The tamper loop ${id} has no cable: its switch goes with the old panel.`
          : isSwitched
            ? `The tamper loop ${id} comes back over the sounder's negative, which the output switches: no input can read it.`
            : `The tamper loop ${id} is given up: opening ${listed(through)} will not be noticed.`,
        withPanel
          ? 'Where the enclosure stays, a lead from the switch to a free input keeps it.'
          : isSwitched
            ? 'Tell the owner that opening its box will not be noticed; a core of its own as return keeps it.'
            : 'Tell the owner and write it into the handover; its cores are insulated and stay.',
      );
    });
}
