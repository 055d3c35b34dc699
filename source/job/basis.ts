import type { JsonObject } from '../journal/canonical.ts';
import { JournalError } from '../journal/error.ts';
import { type StoredPlan, storedPlanToText, storedWiring, textToStoredPlan } from '../plan/stored-plan.ts';
import type { Procedure, Step } from '../procedure/step.ts';

/**
 * What a job stands on, stored in its journal: the survey without `site`, the boards, the plan, its digest and the
 * steps. Plan and steps of a job are these, never made again by a later version.
 */
export type Basis = {
  /** Survey text without `site`. */
  readonly survey: string;
  readonly boards: readonly { readonly id: string; readonly file: string; readonly text: string }[];
  /** SHA-256 of the plan's JSON, to notice that a later version would plan otherwise. */
  readonly planDigest: string;
  /** What screens and documents read; null in a job that was opened before plans were stored. */
  readonly plan: StoredPlan | null;
  readonly procedure: Procedure;
};

/** A piece of a basis never grows past this as JSON writes it, so that it fits a journal line with the rest of its record. */
const MOST_BYTES = 48 * 1024 - 512;

/** `plan` is the plan's digest: it was the first to be kept of it. */
const PARTS = ['survey', 'boards', 'plan', 'planned', 'procedure', 'steps'] as const;
type Part = (typeof PARTS)[number];

/**
 * The data of the `basis` records that store a basis. Text is cut into pieces; figures in it may be fractions,
 * which a record cannot hold as numbers.
 *
 * @param set 0 for the basis a job opens with, 1, 2 ... for each correction tried
 * @param before the basis in force: only steps and members of the plan that differ from its own are stored
 */
export function basisRecords(basis: Basis, set: number, before: Basis | null): JsonObject[] {
  // The wiring as found is a member of the plan: it is kept once.
  const { steps, found: _, ...rest } = basis.procedure;
  const known = new Map(before?.procedure.steps.map((step) => [step.id, JSON.stringify(step)]));
  const changed = steps.filter((step) => known.get(step.id) !== JSON.stringify(step));
  const planned = [...(basis.plan ?? [])].filter(([member, text]) => before?.plan?.get(member) !== text);
  const texts: Record<Part, string> = {
    survey: basis.survey,
    boards: JSON.stringify(basis.boards),
    plan: basis.planDigest,
    planned: storedPlanToText(new Map(planned)),
    procedure: JSON.stringify({ ...rest, order: steps.map((step) => step.id) }),
    steps: JSON.stringify(changed),
  };
  return PARTS.filter((part) => part !== 'planned' || basis.plan !== null).flatMap((part) =>
    piecesOf(part, texts[part], set),
  );
}

/** Pieces of a text, as records of a job: none is too long for its line. */
export function piecesOf(part: string, text: string, set: number): JsonObject[] {
  const pieces = cutText(text);
  return pieces.map((piece, i) => ({ set, part, piece: i + 1, of: pieces.length, text: piece }));
}

/** Pieces of a text, each at most 48 KiB as JSON writes it, cut between characters. */
function cutText(text: string): string[] {
  const pieces: string[] = [];
  let at = 0;
  do {
    const piece = firstPiece(text, at);
    pieces.push(piece);
    at += piece.length;
  } while (at < text.length);
  return pieces;
}

/** As much as fits, by the share that was too much: weighed as a whole, for weighing each character takes a second at 500 detectors. */
function firstPiece(text: string, from: number): string {
  let piece = text.slice(from, from + MOST_BYTES);
  for (;;) {
    const bytes = Buffer.byteLength(JSON.stringify(piece)) - 2;
    const isWhole =
      from + piece.length === text.length || !isHighSurrogate(piece.charCodeAt(piece.length - 1));
    if (!isWhole) piece = piece.slice(0, -1);
    else if (bytes <= MOST_BYTES) return piece;
    else piece = piece.slice(0, Math.floor((piece.length * MOST_BYTES) / bytes));
  }
}

const isHighSurrogate = (unit: number) => unit >= 0xd800 && unit <= 0xdbff;

/** Puts bases together again from their records. */
export class BasisReader {
  readonly #sets = new Map<number, Partial<Record<Part, string[]>>>();

  take(data: JsonObject): void {
    const { set, part, text } = data;
    if (typeof set !== 'number' || typeof text !== 'string' || !PARTS.some((one) => one === part)) return;
    const held = this.#sets.get(set) ?? {};
    const pieces = held[part as Part] ?? [];
    pieces.push(text);
    this.#sets.set(set, { ...held, [part as Part]: pieces });
  }

  /** The highest set met: the next correction takes the one after it. */
  get highest(): number {
    return Math.max(0, ...this.#sets.keys());
  }

  /**
   * The basis of a set.
   *
   * @param before the basis it changes; null for the first
   * @throws JournalError `missing` if parts of it are: its record was cut off before the job begins
   */
  read(set: number, before: Basis | null): Basis {
    const held = this.#sets.get(set) ?? {};
    const text = (part: Part): string => {
      const pieces = held[part];
      if (!pieces) throw cutOff(part);
      return pieces.join('');
    };
    const { order, ...rest } = JSON.parse(text('procedure')) as Omit<Procedure, 'steps'> & {
      order: string[];
    };
    const steps = new Map(before?.procedure.steps.map((step) => [step.id, step]));
    for (const step of JSON.parse(text('steps')) as Step[]) steps.set(step.id, step);
    const ordered = order.map((id) => {
      const step = steps.get(id);
      if (!step) throw cutOff(`step ${id}`);
      return step;
    });
    const plan = held.planned
      ? new Map([...(before?.plan ?? []), ...textToStoredPlan(held.planned.join(''))])
      : null;
    return {
      survey: text('survey'),
      boards: JSON.parse(text('boards')) as Basis['boards'],
      planDigest: text('plan'),
      plan,
      procedure: withWiring({ ...rest, steps: ordered }, plan),
    };
  }
}

/** The wiring as found is read when it is asked for: most commands ask for none. */
function withWiring(procedure: Procedure, plan: StoredPlan | null): Procedure {
  if (plan === null) return procedure;
  let found: Procedure['found'];
  return {
    ...procedure,
    get found() {
      found ??= storedWiring(plan);
      return found;
    },
  };
}

function cutOff(what: string): JournalError {
  const says = `The record of this job holds no record of its ${what}: it is empty, or was cut off before the job begins.`;
  return new JournalError('missing', `${says} Take it from a backup, or from the computer it came from.`);
}
