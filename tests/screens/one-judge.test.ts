import { describe, expect, test } from 'vitest';
import { readingWords } from '../../source/handover/answer-words.ts';
import { recordedValues } from '../../source/job/recorded-values.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { type FallCode, VERDICT_OF } from '../../source/procedure/fall.ts';
import { sayFall } from '../../source/procedure/fall-words.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import type { ReadingProof, Step, SweepProof } from '../../source/procedure/step.ts';
import type { Room } from '../../source/screens/draw/frame.ts';
import { GLYPHS } from '../../source/screens/draw/glyphs.ts';
import { plain } from '../../source/screens/draw/line.ts';
import { PALETTES } from '../../source/screens/draw/palette.ts';
import { fieldsOf } from '../../source/screens/entry/field.ts';
import { newEntry } from '../../source/screens/entry/state.ts';
import { figureAt, verdictAt } from '../../source/screens/entry/verdict.ts';
import { viewEntry } from '../../source/screens/entry/view.ts';
import { answersTo } from '../drive.ts';
import { randomSurvey } from '../random-survey.ts';
import { report, scale } from '../scale.ts';
import { seeded } from './seeded.ts';

const SEEDS = scale(60, 0.1);
const room: Room = {
  columns: 200,
  rows: 24,
  glyphs: GLYPHS.unicode,
  palette: PALETTES.dark,
  linear: false,
  units: 'metric',
};

/** What the record's verdict looks like beside an answer: written down here by hand, and not read from the program. */
const SIGNS: Readonly<Record<string, readonly string[]>> = {
  passed: ['done'],
  unexpected: ['other'],
  failed: ['failed'],
  recorded: ['done', 'dot', 'other'],
};

type Measured = ReadingProof | SweepProof;

/** Figures at every edge of the windows, just beyond, far off, below zero and beyond what the meter shows. */
function figuresFor(proof: Measured, random: () => number): string[] {
  const usable = proof.kind === 'reading' && proof.usable ? [proof.usable.min, proof.usable.max] : [];
  const edges = [proof.min, proof.max, ...usable].filter((edge): edge is number => Number.isFinite(edge));
  const near = edges.flatMap((edge) => [edge, edge + 0.001, edge - 0.001, edge * 1.2]);
  const far = [0, 0.4, 12, 49.9, 60, 10 ** (random() * 7 - 1), 10 ** (random() * 7 - 1)];
  const signed = proof.unit === 'ohm' ? [] : ['-0.6', '-12', '-60'];
  const figures = [...near, ...far].filter((value) => proof.unit !== 'ohm' || value >= 0);
  return [...figures.map((value) => String(Number(value.toFixed(4)))), ...signed, 'OL'];
}

/** The verdict by the windows alone, thought through once more: the simplest thing that could be meant. */
function verdictByHand(proof: ReadingProof, typed: string): string {
  const value = typed === 'OL' ? Number.POSITIVE_INFINITY : Number(typed);
  if (proof.unit === 'V' && Math.abs(value) > 50) return 'failed';
  const within = (min: number | null, max: number | null) =>
    value >= (min ?? Number.NEGATIVE_INFINITY) && value <= (max ?? Number.POSITIVE_INFINITY);
  const asComputed =
    value === Number.POSITIVE_INFINITY
      ? proof.open !== 'no'
      : proof.open !== 'must' && within(proof.min, proof.max);
  if (proof.usable && !within(proof.usable.min, proof.usable.max)) return 'failed';
  if (proof.usable) return asComputed ? 'passed' : 'unexpected';
  return proof.danger ? (asComputed ? 'passed' : 'failed') : 'recorded';
}

type Pair = { readonly step: Step; readonly proof: Measured; readonly typed: string };

function pairsOf(step: Step, random: () => number): Pair[] {
  return step.proof.flatMap((proof) => {
    if (proof.kind !== 'sweep' && (proof.kind !== 'reading' || proof.when)) return [];
    return figuresFor(proof, random).map((typed) => ({ step, proof, typed }));
  });
}

/** The card answered well, but for one figure: as the record judges it and as the screen shows it. */
function bothOf({ step, proof, typed }: Pair) {
  const good = answersTo(step);
  const swept = { ...(good[proof.field] as object), greatest: typed };
  const values = { ...good, [proof.field]: proof.kind === 'sweep' ? swept : typed } as typeof good;
  const judged = judgeProof(step, values);
  const flat = Object.fromEntries(
    Object.entries(values).flatMap(([field, value]) =>
      typeof value === 'object'
        ? Object.entries(value).map(([part, said]) => [`${field}.${part}`, String(said)])
        : [[field, String(value)]],
    ),
  );
  const entry = newEntry(fieldsOf(step.proof), flat);
  const id = proof.kind === 'sweep' ? `${proof.field}.greatest` : proof.field;
  const at = entry.fields.findIndex((field) => field.id === id);
  return { values, judged, entry: { ...entry, at }, at };
}

describe(`what the screen says of a figure is what the record says (${SEEDS} random plans, seeds from 0)`, () => {
  const counts: Partial<Record<FallCode, number>> = {};
  let compared = 0;
  let unread = 0;
  const differing: string[] = [];
  const say = (pair: Pair, what: string) =>
    differing.push(`${pair.step.id} ${pair.proof.field} ${pair.typed}: ${what}`);

  for (let seed = 0; seed < SEEDS; seed += 1) {
    test(`seed ${seed}`, () => {
      const { survey, boards } = randomSurvey(seed);
      const { steps } = buildProcedure(planChangeover(survey, boards));
      const random = seeded(seed + 1);
      for (const pair of steps.flatMap((step) => pairsOf(step, random))) {
        const { values, judged, entry, at } = bothOf(pair);
        const shown = figureAt(entry, at);
        const { proof, step } = pair;
        if (!judged.ok) {
          // What asks for more is judged with more; what cannot be read is no figure on the screen either.
          unread += 1;
          continue;
        }
        const field = judged.fields.find((one) => one.field === proof.field)!;
        const words = sayFall(field.fall);
        compared += 1;
        counts[field.fall.is] = (counts[field.fall.is] ?? 0) + 1;
        if (shown === null) {
          say(pair, 'nothing is shown');
          continue;
        }
        if (shown.look.says !== words) say(pair, `shown "${shown.look.says}", recorded "${words}"`);
        if (!SIGNS[field.verdict]!.includes(shown.look.sign))
          say(pair, `${shown.look.sign} for ${field.verdict}`);
        const row = verdictAt(entry, at);
        if (row.sign !== shown.look.sign && field.fall.is !== 'short-count')
          say(pair, `row ${row.sign}, scale ${shown.look.sign}`);
        if (field.verdict === 'failed' && /as expected/.test(words)) say(pair, `failed, and "${words}"`);
        if (VERDICT_OF[field.fall.is] !== field.verdict) say(pair, 'a verdict that its fall does not make');
        const isBeside = proof.kind === 'reading' && (proof.agreesWith || field.fall.is === 'live');
        if (proof.kind === 'reading' && !isBeside && field.verdict !== verdictByHand(proof, pair.typed))
          say(pair, `${field.verdict}, by hand ${verdictByHand(proof, pair.typed)}`);
        // Every so often all the way: the rows on the screen, and the page of the handover.
        if (compared % 23 !== 0) continue;
        const screen = viewEntry(entry, room, 20).lines.map(plain).join('\n');
        if (!screen.includes(words)) say(pair, `no "${words}" on the screen`);
        const value = recordedValues(step.proof, values, judged.fields, new Map())[proof.field]!;
        const page = readingWords({ field: proof.field, label: '', proof, value } as never);
        if (page.includes('FAILED') !== (field.verdict === 'failed')) say(pair, `on the page: ${page}`);
        if (field.verdict === 'unexpected' && !page.includes(words)) say(pair, `on the page: ${page}`);
      }
    });
  }

  test('none differs, every way to fall was met, and enough were compared', () => {
    report('One judge', [{ compared, unread, differing: differing.length, ...counts }]);
    expect(differing.slice(0, 20)).toEqual([]);
    expect(compared).toBeGreaterThan(scale(30_000, 0.1));
    const measured: FallCode[] = ['expected', 'usable', 'odd', 'noted', 'unusable', 'beyond-stop', 'met'];
    for (const is of measured) expect(counts[is] ?? 0, is).toBeGreaterThan(0);
  });
});
