import { parseColours, readBands } from '../electrical/colour-code.ts';
import { cableLoopOhms, LENGTH_TOLERANCE, parseConductor } from '../electrical/conductor.ts';
import { type Identification, identifyLoop, type LoopReadings } from '../electrical/identify.ts';
import { type Interval, within } from '../electrical/interval.ts';
import { METER, trueOhms } from '../electrical/loop.ts';
import { formatQuantity, parseQuantity } from '../electrical/quantity.ts';
import type { Given, Run } from './command.ts';
import { jsonOf } from './compute/answer.ts';
import { read } from './compute/inputs.ts';
import { Ending, EXIT } from './exit.ts';

const EXAMPLE = 'loopward identify --rest 2.23k --active OL';

/**
 * What loop gives the readings of a command line.
 *
 * @throws Ending of kind `usage` where an option is missing or unreadable
 */
export function identify(given: Given): Identification {
  return identifyLoop(readingsFrom(given));
}

function readingsFrom(given: Given): LoopReadings {
  const ohms = (option: string, text: string) => read(option, parseQuantity(text, 'ohms', 'field-unit'));
  const rest = given.text('rest');
  if (rest === undefined) throw new Ending('usage', `--rest is missing. Write ${EXAMPLE}`);
  const active = given.all('active').map((text) => ohms('active', text));
  const tamper = given.text('tamper');
  const field = given.text('field');
  const cable = given.text('cable');
  const contacts = given.text('contacts');
  const colours = given.text('colours');
  return {
    restOhms: ohms('rest', rest),
    ...(active.length > 0 ? { activeOhms: active } : {}),
    ...(tamper === undefined ? {} : { tamperOhms: ohms('tamper', tamper) }),
    ...(field === undefined ? {} : { fieldOhms: ohms('field', field) }),
    ...(cable === undefined ? {} : { cableOhms: readCable(cable) }),
    ...(contacts === undefined ? {} : { contacts: readContacts(contacts, active.length) }),
    ...(colours === undefined ? {} : readResistor(colours)),
  };
}

/** A length and a conductor in one text: "18 m 22 AWG", "18 m of 0.22 mm2". The length is an estimate. */
function readCable(text: string): Interval {
  const words = text.trim().split(/[\s,]+(?:of\s+)?/);
  for (let at = 1; at < words.length; at++) {
    const length = parseQuantity(words.slice(0, at).join(' '), 'metres');
    const conductor = parseConductor(words.slice(at).join(' '));
    if (length.ok && conductor.ok) {
      return cableLoopOhms(conductor.value, within(length.value, LENGTH_TOLERANCE.estimated), 20);
    }
  }
  throw new Ending(
    'usage',
    `--cable: "${text}" is no length and conductor. Write "18 m 22 AWG" or "60 ft 0.22 mm2".`,
  );
}

function readContacts(text: string, worked: number): number {
  const count = Number(text);
  if (!Number.isInteger(count) || count < 1 || count > 99) {
    throw new Ending('usage', `--contacts: "${text}" is no number of contacts. Write a whole number from 1.`);
  }
  if (count < worked) {
    throw new Ending(
      'usage',
      `--contacts ${count} is fewer than the ${worked} detectors that were worked. Count again.`,
    );
  }
  return count;
}

function readResistor(text: string): { resistorOhms: number; resistorTolerance: number } {
  const { ohms, tolerance } = read('colours', readBands(read('colours', parseColours(text))))[0]!;
  return { resistorOhms: ohms, resistorTolerance: tolerance };
}

export const run: Run = (given, context) => {
  const found = identify(given);
  const { candidates, ambiguous, impossible, ask } = found;
  if (given.json) {
    context.out(jsonOf({ format: 'loopward/identify@1', candidates, ambiguous, impossible, ask }));
    return EXIT.done;
  }
  if (impossible !== null) context.out(impossible);
  for (const { fit, says } of candidates) {
    context.out(candidates.length > 1 ? `${share(fit)}  ${says}` : says);
  }
  if (candidates.length > 1) context.out('The meter cannot tell these apart; the first is the likeliest.');
  if (ask.length > 0) context.out(`To know more: ${ask.join(', ')}.`);
  if (given.has('explain')) for (const line of explained(given)) context.out(line);
  return EXIT.done;
};

function share(fit: number): string {
  return `${fit < 0.01 ? '<1' : Math.round(fit * 100)} %`.padStart(5);
}

function explained(given: Given): string[] {
  const { restOhms, activeOhms = [], cableOhms } = readingsFrom(given);
  const shown = (value: number) => formatQuantity(value, 'ohms', { digits: 4 });
  const line = (name: string, reading: number) => {
    const { min, max } = trueOhms(reading);
    return `  ${name} ${shown(reading)}: truly ${min === max ? shown(min) : `${shown(min)} to ${shown(max)}`}`;
  };
  const cable =
    cableOhms === undefined
      ? '0 Ω to 100 Ω (not known)'
      : `${shown(cableOhms.min)} to ${shown(cableOhms.max)}`;
  return [
    line('at rest', restOhms),
    ...activeOhms.map((reading) => line('worked', reading)),
    `  cable: ${cable}; contacts up to 50 Ω each`,
    `    source: meter ±(${METER.ohms.fraction * 100} % + ${METER.ohms.floor} Ω); values of IEC 60063, E24 at 5 %, then E96 at 1 %`,
  ];
}
