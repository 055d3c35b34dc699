import { isOver, isUnder } from '../../electrical/limit.ts';
import type { Expression } from '../../electrical/loop.ts';
import { contactAmps } from '../../electrical/sensing.ts';
import type { Survey } from '../../site/survey.ts';
import type { Circuit, Finding } from '../plan.ts';
import { remember } from '../remember.ts';
import { cableTree } from '../supply/cable-ohms.ts';
import { sourceVolts } from '../supply/supply-volts.ts';
import { type WayOut, wayOutOf } from '../work/way-out.ts';
import { type Facts, finding } from './facts.ts';
import { sensingFindings } from './sensing.ts';
import { amps, beyondWords, listed, ohms, volts } from './words.ts';

/** The usual limit for cable and contacts of one loop: 100 Ω, common practice, no source. */
const LONG_LOOP_OHMS = 100;
/** What breaks through the film on an old contact: about 1 mA, common practice, no source. */
const WETTING_AMPS = 0.001;

/** Will each input read its loop surely, and what is not known about the loop. */
export function loopFindings(facts: Facts): Finding[] {
  return [
    ...facts.circuits.flatMap(tooLong),
    ...sensingFindings(facts),
    ...facts.zones.flatMap((zone) => resistorFindings(facts, zone.id)),
    ...contactUnknown(facts),
    ...lengthUnknown(facts),
    ...lowCurrent(facts),
    ...auxOnInput(facts),
  ];
}

const cableOfDetector = remember(
  ({ detectors }: Survey) => new Map(detectors.map(({ id, cable }) => [id, cable])),
);

/** The whole way round: every cable of the circuit, also those of a chain between the panel and the last of it. */
function tooLong(circuit: Circuit): Finding[] {
  const loopOhms = copperOhms(circuit.expression);
  if (!isOver(loopOhms, LONG_LOOP_OHMS)) return [];
  return [
    finding(
      'loop-too-long',
      'caution',
      [`${circuit.board}/${circuit.input}`, ...circuit.detectors],
      `The cables of ${listed(circuit.detectors)} make ${beyondWords(loopOhms, LONG_LOOP_OHMS, 'ohms')}, and a loop should stay under ${ohms(LONG_LOOP_OHMS)}.`,
      'Check the length; a second core in parallel halves it.',
      { loopOhms, usualOhms: LONG_LOOP_OHMS },
    ),
  ];
}

/** Cable alone in a row, of several ways across the longest. */
function copperOhms(part: Expression): number {
  switch (part.kind) {
    case 'series':
      return part.of.reduce((sum, one) => sum + copperOhms(one), 0);
    case 'parallel':
      return Math.max(0, ...part.of.map(copperOhms));
    case 'cable':
      return part.ohms.nominal;
    default:
      return 0;
  }
}

const WAY_OUT_WORDS: Readonly<Record<WayOut, string>> = {
  panel: 'it sits in the old enclosure',
  'jumper-across': 'it lies across the pair and is set by a jumper there: set that to no resistor',
  jumper: 'it stands in the row and is set by a jumper there: set that to no resistor',
  across: 'it lies across the pair or its contact: cut it out, and the pair stays joined',
  'in-row': 'it stands in the row: take it out and make its ends through',
};

function resistorFindings({ survey, zones, field }: Facts, id: string): Finding[] {
  const zone = zones.find((one) => one.id === id)!;
  const loop = [...survey.zones, ...survey.tampers].find((one) => one.id === id)!.loop;
  const found: Finding[] = [];
  if (loop.resistorOhms === 'unknown' || loop.alarmResistorOhms === 'unknown')
    found.push(
      finding(
        'resistor-unknown',
        'caution',
        [id],
        `Nobody has read the resistor of ${id}: any reading from 1 k to 10 k could be right.`,
        'Read its colours when the cover is off, or measure the loop, and correct the survey.',
      ),
    );
  const away = zone.fitted.filter((one) => one.work !== 'keep' && typeof one.at === 'object');
  const places = [...new Set(away.map(({ at }) => (typeof at === 'object' ? at.detector : '')))];
  if (away.length > 0)
    found.push(
      finding(
        'resistor-at-detector',
        'note',
        [id, ...places],
        away.length === 1
          ? `The resistor of ${id} sits out at ${places[0]}, not at the panel.`
          : `${away.length} resistors of ${id} sit out at ${listed(places)}, not at the panel.`,
        away.some((one) => one.work === 'replace')
          ? `Plan a trip with a ladder: ${listed(away.map((one) => (one.newOhms === null ? 'one goes' : `one becomes ${ohms(one.newOhms)}`)))}.`
          : `Plan a trip with a ladder: ${listed([...new Set(away.map((one) => WAY_OUT_WORDS[wayOutOf(survey, field.wiring, id, one.id)]))])}.`,
        { resistors: away.length },
      ),
    );
  if (zone.supervisionLost !== null)
    found.push(
      finding(
        'supervision-lost',
        'note',
        [id],
        `${zone.supervisionLost} in ${id}.`,
        'Tell the owner, and write it into the handover; a supervised input would keep it.',
      ),
    );
  return found;
}

function contactUnknown({ survey, lifeSafety }: Facts): Finding[] {
  const about = survey.detectors
    .filter(({ id, contact }) => contact === 'unknown' && !lifeSafety.ids.has(id))
    .map(({ id }) => id);
  if (about.length === 0) return [];
  return [
    finding(
      'contact-unknown',
      'caution',
      about,
      `Nobody knows whether ${listed(about)} ${about.length > 1 ? 'open or close' : 'opens or closes'} in alarm.`,
      'Read the loop at rest and worked before it is landed, and correct the survey.',
    ),
  ];
}

function lengthUnknown({ survey, connections }: Facts): Finding[] {
  const moved = new Set(
    connections
      .filter(({ to }) => 'board' in to || 'joint' in to)
      .map(({ conductor }) => conductor.split('/')[0]),
  );
  const about = survey.cables
    .filter(
      ({ id, lengthKnown, conductorKnown }) =>
        moved.has(id) && (lengthKnown === 'unknown' || !conductorKnown),
    )
    .map(({ id }) => id);
  if (about.length === 0) return [];
  return [
    finding(
      'length-unknown',
      'caution',
      about,
      `Nobody knows length or conductor of ${listed(about)}, so what stands in for them is wide.`,
      'Measure the pair with its far end shorted, or read the marks on the sheath, and correct the survey.',
    ),
  ];
}

function lowCurrent({ boards, circuits, survey }: Facts): Finding[] {
  return boards.flatMap((board) => {
    const current = contactAmps(board.sensing);
    const mechanical = survey.detectors.filter(({ supply }) => supply === null).map(({ id }) => id);
    const hasOld = circuits.some(
      (circuit) => circuit.board === board.id && circuit.detectors.some((id) => mechanical.includes(id)),
    );
    if (!isUnder(current, WETTING_AMPS) || !hasOld) return [];
    return [
      finding(
        'low-contact-current',
        'note',
        [board.id],
        `The inputs of ${board.id} send only ${amps(current)} through a contact; old ones may need about ${amps(WETTING_AMPS)} to conduct reliably.`,
        'Work each old contact a few times, and replace one whose reading jumps.',
        { contactAmps: current },
      ),
    ];
  });
}

/** Loop and supply in one cable: a fault there may put aux on an input that bears less. */
function auxOnInput({ survey, boards, circuits }: Facts): Finding[] {
  const { byId } = cableTree(survey);
  const carriesBoth = (id: string) => {
    const uses = byId.get(cableOfDetector(survey).get(id) ?? '')?.cores.map(({ use }) => use) ?? [];
    return uses.includes('loop') && uses.includes('aux-positive');
  };
  return boards.flatMap((board) => {
    const auxVolts = sourceVolts(board, 'highest');
    const { inputMaximumVolts } = board.sensing;
    const about = circuits
      .filter((circuit) => circuit.board === board.id && circuit.purpose === 'detection')
      .flatMap(({ detectors }) => detectors.filter(carriesBoth));
    if (!isOver(auxVolts, inputMaximumVolts) || about.length === 0) return [];
    return [
      finding(
        'aux-on-input',
        'note',
        [board.id, ...about],
        `The inputs of ${board.id} withstand ${volts(inputMaximumVolts)} at most, and in the cables of ${listed(about)} its ${volts(auxVolts)} of aux runs beside the loop.`,
        'Read each of these loops against aux before power-up: nothing may conduct between them.',
        { auxVolts, inputMaximumVolts },
      ),
    ];
  });
}
