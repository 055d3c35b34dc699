import { type Conductor, parseConductor } from '../../electrical/conductor.ts';
import { type Parsed, parseQuantity, type QuantityKind } from '../../electrical/quantity.ts';
import type { Given } from '../command.ts';
import { Ending } from '../exit.ts';

/** Reads the options of a calculation; what is missing or unreadable ends the command with its name. */
export type Inputs = {
  quantity(option: string, kind: QuantityKind, bareUnit?: string): number;
  quantityOr(option: string, kind: QuantityKind, otherwise: number, bareUnit?: string): number;
  maybe(option: string, kind: QuantityKind): number | undefined;
  conductor(option: string): Conductor;
  /** As typed. */
  text(option: string): string | undefined;
};

/**
 * @param example what to write, for the sentence about a missing option
 * @throws Ending of kind `usage`, from its functions
 */
export function inputsFrom(given: Given, example: string): Inputs {
  const need = (option: string): string => {
    const text = given.text(option);
    if (text === undefined) throw new Ending('usage', `--${option} is missing. Write ${example}`);
    return text;
  };
  const quantity = (option: string, kind: QuantityKind, bareUnit = 'field-unit') => {
    const value = read(option, parseQuantity(need(option), kind, bareUnit));
    if (value < 0 && kind !== 'celsius') {
      throw new Ending('usage', `--${option} is below zero. Give its size without a sign.`);
    }
    return value;
  };
  return {
    quantity,
    quantityOr: (option, kind, otherwise, bareUnit) =>
      given.has(option) ? quantity(option, kind, bareUnit) : otherwise,
    maybe: (option, kind) => (given.has(option) ? quantity(option, kind) : undefined),
    conductor: (option) => read(option, parseConductor(need(option))),
    text: (option) => given.text(option),
  };
}

/** The value, or the end of the command with the option's name before the reason. */
export function read<T>(option: string, parsed: Parsed<T>): T {
  if (parsed.ok) return parsed.value;
  throw new Ending('usage', `--${option}: ${parsed.says}`);
}
