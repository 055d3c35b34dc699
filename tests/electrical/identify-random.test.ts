import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Identification, identifyLoop } from '../../source/electrical/identify.ts';
import { addIntervals } from '../../source/electrical/interval.ts';
import { evaluateLoop } from '../../source/electrical/loop.ts';
import { report, scale } from '../scale.ts';
import { between, SEED } from './draw.ts';
import { build, metered, partsOf, type RandomLoop, randomLoop } from './random-loop.ts';

type Read = {
  readonly loop: RandomLoop;
  readonly rest: number;
  readonly active: readonly number[];
  readonly found: Identification;
};

const cases = fc.record({
  loop: randomLoop(),
  isCableKnown: fc.noBias(fc.boolean()),
  gains: fc.array(between(-1, 1), { minLength: 4, maxLength: 4 }),
  offsets: fc.array(between(-1, 1), { minLength: 4, maxLength: 4 }),
});

function readAll(count: number): Read[] {
  return fc.sample(cases, { numRuns: count, seed: SEED }).map(({ loop, isCableKnown, gains, offsets }) => {
    const expression = build(loop, partsOf('true'));
    const read = (at: number, worked?: string) =>
      metered(
        evaluateLoop(expression, worked ? { [worked]: 'active' } : {}).nominal,
        gains[at]!,
        offsets[at]!,
      );
    const rest = read(0);
    const active = loop.detectors.map(({ name }, at) => read(at + 1, name));
    const cableOhms = addIntervals(...loop.detectors.map((one) => one.surveyedCable));
    // A cable that shorts out of the reading cannot be less than itself: only whole rows show all of it.
    const known = isCableKnown && !(loop.style === 'plain' && loop.detectors.length > 1) ? { cableOhms } : {};
    const contacts = loop.detectors.length;
    const found = identifyLoop({ restOhms: rest, activeOhms: active, contacts, ...known });
    return { loop, rest, active, found };
  });
}

/**
 * Whether the meter can see what makes the style (the loop table of each style): a resistor above what
 * cable and contacts may have, and every worked contact a step that is larger than all doubt.
 */
function tellsStyle({ loop, rest, active }: Read): boolean {
  const { style, resistor, contactResistors } = loop;
  if (resistor !== null && resistor.trueOhms < 320) return false;
  const steps = active.map((reading) => Math.abs(reading - rest));
  if (steps.some((step) => step < 0.03 * rest + 100)) return false;
  if (style === 'two-resistor' && active.some((reading) => reading < 320)) return false;
  if (style !== 'bridged') return true;
  const own = contactResistors.map(({ trueOhms }) => trueOhms);
  const isSpread = Math.max(...own) / Math.min(...own) > 1.3 + (0.04 * rest) / Math.min(...own);
  return resistor === null || isSpread;
}

function trueValues({ loop }: Read) {
  return {
    resistor: loop.resistor?.ohms ?? null,
    own: loop.contactResistors.map(({ ohms }) => ohms),
  };
}

function givesTrueValues(read: Read): boolean {
  const { resistor, own } = trueValues(read);
  const fitting = read.found.candidates;
  return (
    fitting.some((one) => one.resistorOhms === resistor) &&
    own.every((ohms, at) =>
      fitting.some((one) => (one.bridgeOhms ? one.bridgeOhms[at] === ohms : one.alarmResistorOhms === ohms)),
    )
  );
}

test(`random loops are identified: style, values among those given, nothing wrong with confidence (seed ${SEED})`, () => {
  const all = readAll(scale(5000, 0.2));
  const telling = all.filter(tellsStyle);
  const wrongStyle = telling.filter(({ loop, found }) => found.candidates[0]?.style !== loop.style);
  const withoutValue = telling.filter((read) => !givesTrueValues(read));
  const confident = all.filter(({ found }) => found.candidates.length === 1 && !found.ambiguous);
  const wrongWithConfidence = confident.filter(
    (read) => read.found.candidates[0]!.style !== read.loop.style || !givesTrueValues(read),
  );
  report(`Identification of random loops (seed ${SEED})`, [
    {
      loops: all.length,
      'readings tell the style': telling.length,
      'style right': `${(100 * (1 - wrongStyle.length / telling.length)).toFixed(2)} %`,
      'true value given': `${(100 * (1 - withoutValue.length / telling.length)).toFixed(2)} %`,
      'one answer alone': confident.length,
      'wrong with confidence': wrongWithConfidence.length,
    },
  ]);
  expect(telling.length).toBeGreaterThan(0.7 * all.length);
  expect(1 - wrongStyle.length / telling.length).toBeGreaterThanOrEqual(0.995);
  expect(withoutValue).toEqual([]);
  expect(wrongWithConfidence).toEqual([]);
});

test(`with one of several detectors worked, or contacts that nobody counted, nothing wrong stands alone (seed ${SEED})`, () => {
  const several = readAll(scale(20_000, 0.1)).filter(({ loop }) => loop.detectors.length > 1);
  const counts = { mixed: 0, alone: 0, 'alone and wrong': 0, 'true style not given': 0 };
  for (const { loop, rest, active } of several) {
    const isTelling = loop.resistor === null || loop.resistor.trueOhms >= 320;
    for (const contacts of [undefined, loop.detectors.length]) {
      const known = contacts === undefined ? {} : { contacts };
      const found = identifyLoop({ restOhms: rest, activeOhms: active.slice(0, 1), ...known });
      const isAlone = found.candidates.length === 1 && !found.ambiguous;
      counts.mixed += loop.style === 'mixed' ? 1 : 0;
      counts.alone += isAlone ? 1 : 0;
      counts['alone and wrong'] += isAlone && found.candidates[0]!.style !== loop.style ? 1 : 0;
      const isGiven = found.impossible !== null || found.candidates.some(({ style }) => style === loop.style);
      counts['true style not given'] += isTelling && loop.style === 'mixed' && !isGiven ? 1 : 0;
    }
  }
  report(`Identification with one of several detectors worked (seed ${SEED})`, [counts]);
  expect(counts.mixed).toBeGreaterThan(scale(4000, 0.1));
  expect(counts).toMatchObject({ 'alone and wrong': 0, 'true style not given': 0 });
});

test(`from the reading at rest alone the true style and value are always among those given (seed ${SEED})`, () => {
  const all = readAll(scale(5000, 0.2)).filter(
    ({ loop }) => loop.resistor === null || loop.resistor.ohms >= 220,
  );
  for (const { loop, rest } of all) {
    const { candidates, ambiguous } = identifyLoop({ restOhms: rest, contacts: loop.detectors.length });
    const isGiven = candidates.some(
      (one) => one.style === loop.style && one.resistorOhms === (loop.resistor?.ohms ?? null),
    );
    expect({ loop, rest, isGiven, ambiguous }).toMatchObject({ isGiven: true, ambiguous: true });
  }
});

test(`a contact that does nothing is named, whatever the others do (seed ${SEED})`, () => {
  // Above 10 kΩ the meter's own error could hide a small resistor across the contact.
  const all = readAll(scale(5000, 0.1)).filter((read) => tellsStyle(read) && read.rest < 10_000);
  for (const { loop, rest, active } of all) {
    const still = active.with(active.length - 1, rest);
    const { candidates, impossible } = identifyLoop({ restOhms: rest, activeOhms: still });
    expect({ loop, candidates, named: impossible !== null }).toMatchObject({ candidates: [], named: true });
  }
});

test(`a loop that is open at rest and open when worked is never forced into a style (seed ${SEED})`, () => {
  for (const { active } of readAll(scale(5000, 0.1))) {
    const opened = active.with(0, Number.POSITIVE_INFINITY);
    const { candidates, impossible } = identifyLoop({
      restOhms: Number.POSITIVE_INFINITY,
      activeOhms: opened,
    });
    expect([candidates.length, impossible !== null]).toEqual([0, true]);
  }
});
