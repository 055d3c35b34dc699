import { CALCULATIONS, type CalculationName, COMPUTE } from './calculations.ts';
import type { Given, Run } from './command.ts';
import { type Answer, jsonOf, workingLines } from './compute/answer.ts';
import { computeBattery, computeHoldUp } from './compute/battery.ts';
import { computeDivider } from './compute/divider.ts';
import { computeDrop } from './compute/drop.ts';
import { type Inputs, inputsFrom } from './compute/inputs.ts';
import { computeResistor } from './compute/resistor.ts';
import { computeWire } from './compute/wire.ts';
import { Ending, EXIT } from './exit.ts';
import { unknownName } from './nearest.ts';

const BY_NAME: Record<CalculationName, (inputs: Inputs, withColour: boolean) => Answer> = {
  wire: computeWire,
  drop: computeDrop,
  battery: computeBattery,
  'hold-up': computeHoldUp,
  resistor: computeResistor,
  divider: computeDivider,
};

/**
 * One calculation of the bench.
 *
 * @throws Ending of kind `usage` where an option is missing, unreadable or of another calculation
 */
export function compute(given: Given, withColour = false): Answer {
  const asked = given.arguments[0] ?? '';
  const calculation = CALCULATIONS.find(({ name }) => name === asked);
  if (calculation === undefined) {
    throw unknownName(
      'calculation',
      asked,
      CALCULATIONS.map(({ name }) => name),
    );
  }
  const { name, takes, example } = calculation;
  const stray = COMPUTE.options
    .map(({ flags }) => /^--([a-z-]+)/.exec(flags)?.[1] ?? '')
    .find((option) => given.has(option) && ![...takes, 'json', 'explain'].includes(option));
  if (stray !== undefined) {
    throw new Ending('usage', `${name} takes no --${stray}. Write ${example}`);
  }
  return BY_NAME[name](inputsFrom(given, example), withColour);
}

export const run: Run = (given, context) => {
  const withColour = context.terminal && !context.env.NO_COLOR && context.env.TERM !== 'dumb';
  const answer = compute(given, withColour && !given.json);
  if (given.json) {
    context.out(jsonOf(answer.json));
    return EXIT.done;
  }
  for (const line of answer.drawing ?? []) context.drawing(line);
  context.out(answer.says);
  if (given.has('explain')) for (const line of workingLines(answer.working)) context.out(line);
  return EXIT.done;
};
