import { parseQuantity } from '../electrical/quantity.ts';
import type { Step } from '../procedure/step.ts';
import type { Action } from './action.ts';

/**
 * Why an entry is asked about before it is taken. A challenge is no gate: the same action with the challenge's
 * name in `acknowledge` passes, and is recorded so.
 */
export type Challenge = {
  readonly name: 'looks-like-a-code' | 'typed-too-soon' | 'leads-not-zero';
  readonly says: string;
};

/**
 * The challenge an action meets, or null.
 *
 * @param step the step it is about, where it is about one
 * @param secondsOpen how long that step's card has been open; null where nobody opened it
 */
export function challengeTo(action: Action, step: Step | null, secondsOpen: number | null): Challenge | null {
  const met = [codeIn(action, step), leadsNotZero(action), tooSoon(action, step, secondsOpen)];
  return met.find((one) => one !== null && !action.acknowledge?.includes(one.name)) ?? null;
}

function codeIn(action: Action, step: Step | null): Challenge | null {
  if (!freeTexts(action).some(looksLikeCode) && !answers(action, step)) return null;
  return {
    name: 'looks-like-a-code',
    says: 'This looks as if it held a code, and what is recorded cannot be taken back. Leave the code out, or say that it is none.',
  };
}

const FREE_FIELDS = ['reason', 'residualRisk', 'text', 'where', 'instrument'];

function freeTexts(action: Action): string[] {
  const fields = action as Readonly<Record<string, unknown>>;
  return FREE_FIELDS.map((field) => fields[field]).filter((typed) => typeof typed === 'string');
}

function answers(action: Action, step: Step | null): boolean {
  if (action.do !== 'confirm' || !step) return false;
  return step.proof.some((proof) => {
    const typed = action.values[proof.field];
    if (proof.kind !== 'text' || typeof typed !== 'string') return false;
    // A card that asks for a number is answered with one; there only words give a code away.
    return proof.numeric ? announcesCode(typed) : looksLikeCode(typed);
  });
}

const CODE_WORDS =
  /\b(pass\s?(code|word|phrase)|pin|(alarm|installer|master|engineer|duress|user|keypad|entry|access)\s+code)\b/i;
const DIGIT_RUN =
  /(?<![\d.,:/+-])\d{4,8}(?![\d.,:/-]|\s*(ohms?|kohm|mohm|[km]?v|ma|a|ah|mah|hz|w|mm2?|cm|m|ft|s|min|h|k|r|Ω)\b)/gi;

/**
 * Whether a free text looks as if it held a code: a run of four to eight digits that is neither a figure with its
 * unit nor a year, date or time; or a word that announces a code, together with digits. Hashing does not hide a
 * code of six digits (all of them are tried in a third of a second), so none may enter the record.
 *
 * @example looksLikeCode('the keypad code is 471') // => true
 * @example looksLikeCode('installed 2019, 7000 mAh') // => false
 */
export function looksLikeCode(text: string): boolean {
  return announcesCode(text) || [...text.matchAll(DIGIT_RUN)].some(([run]) => !isYear(run));
}

function announcesCode(text: string): boolean {
  return CODE_WORDS.test(text) && /\d{3,}/.test(text);
}

function isYear(run: string): boolean {
  return run.length === 4 && Number(run) >= 1950 && Number(run) <= 2099;
}

/** Good leads have a few tenths of an ohm; what is above this hides what is read through them. Common practice, no source. */
export const LEADS_OHMS = 1;

function leadsNotZero(action: Action): Challenge | null {
  if (action.do !== 'start-shift' || action.zero === undefined) return null;
  const zero = parseQuantity(action.zero, 'ohms', 'field-unit');
  if (!zero.ok || zero.value <= LEADS_OHMS) return null;
  return {
    name: 'leads-not-zero',
    says: `Good leads read below ${LEADS_OHMS} ohm when they touch, and these read ${zero.value}. Clean or replace them and touch them together again; or say that it is so: then take it off each figure yourself before you type it.`,
  };
}

/** The least time to put the probes on one point and read the meter. Common practice, no source. */
const SECONDS_A_POINT = 1;

/** A proof that everything is dead is never typed from memory: it takes its time, point by point. */
function tooSoon(action: Action, step: Step | null, secondsOpen: number | null): Challenge | null {
  if (action.do !== 'confirm' || secondsOpen === null) return null;
  if (step?.effect !== 'prove' && step?.effect !== 'prove-short') return null;
  const sweeps = step.proof.filter((proof) => proof.kind === 'sweep');
  const points = Math.max(0, ...sweeps.map((sweep) => sweep.points.length));
  const touches = sweeps.reduce((sum, sweep) => sum + sweep.points.length, 0);
  if (secondsOpen >= touches * SECONDS_A_POINT) return null;
  const modes = sweeps.length > 1 ? ', on DC and on AC,' : '';
  return {
    name: 'typed-too-soon',
    says: `${points} points${modes} were proved within ${Math.floor(secondsOpen)} s, by what was typed. Touch each of them with the instrument now, or say that you did.`,
  };
}
