import { describe, expect, test } from 'vitest';
import type { RecordedValue } from '../../source/job/records.ts';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { randomSurvey } from '../random-survey.ts';
import { randomSite } from '../rehearsal/run-rehearsal.ts';
import { report, scale } from '../scale.ts';
import { type Kind, type Known, knownOfJob, knownOfPlan } from './known-figures.ts';
import { jobSurfaces, planSurfaces } from './surfaces.ts';
import { writtenFigure } from './written-figure.ts';

const SITES = scale(300, 0.02);
const PLANS = scale(300, 0.3);

type Token = { readonly text: string; readonly kind: Kind; readonly value: number };

const UNITS: Readonly<Record<string, readonly [Kind, number]>> = {
  Ω: ['ohms', 1],
  ohm: ['ohms', 1],
  kΩ: ['ohms', 1e3],
  kohm: ['ohms', 1e3],
  MΩ: ['ohms', 1e6],
  V: ['volts', 1],
  A: ['amps', 1],
  mA: ['amps', 1e-3],
  µA: ['amps', 1e-6],
  Ah: ['ampHours', 1],
  h: ['hours', 1],
  m: ['metres', 1],
};
const NAMES = Object.keys(UNITS).join('|');
const SPAN = new RegExp(`([−-]?\\d+(?:\\.\\d+)?) to ([−-]?\\d+(?:\\.\\d+)?) (${NAMES})(?![\\wΩ²/])`, 'g');
const ONE = new RegExp(`(?<![\\w.:])([−-]?\\d+(?:\\.\\d+)?) ?(${NAMES})(?![\\wΩ²/])`, 'g');

/** Every figure with its unit; of `2.07 to 2.35 kΩ` both. */
function tokens(text: string): Token[] {
  const spread = text.replace(SPAN, '$1 $3 to $2 $3');
  return [...spread.matchAll(ONE)].map(([, figure, unit]) => {
    const [kind, per] = UNITS[unit!]!;
    return { text: `${figure} ${unit}`, kind, value: Number(figure!.replace('−', '-')) * per };
  });
}

/** What is said of no quantity of the site: limits and habits of the trade, as sentences of the program state them. */
const CONSTANTS = new Set([
  '12 V',
  '50 V',
  '0.5 V',
  '30 V',
  '90 V',
  '100 V',
  '16 V',
  '2 V',
  '1 V',
  '0.2 V',
  '100 Ω',
  '1 MΩ',
  '2 kΩ',
  '10 kΩ',
  '10 kohm',
  '1 mA',
  '50 mA',
]);

/** Nearer than this to a quantity a figure is meant as that quantity. Rounding to two digits takes up to 5 %. */
const MEANT = 0.02;

/** Figures that are a quantity of the site in another value, unit or rounding than it has everywhere else. */
function strays(
  surfaces: ReadonlyMap<string, string>,
  known: readonly Known[],
  typed: ReadonlySet<string>,
): string[] {
  const right = new Set(known.map(writtenFigure));
  const byKind = new Map<Kind, Known[]>();
  for (const one of known) byKind.set(one.kind, [...(byKind.get(one.kind) ?? []), one]);
  return [...surfaces].flatMap(([surface, text]) =>
    tokens(text)
      .filter((token) => !right.has(token.text) && !typed.has(token.text) && !CONSTANTS.has(token.text))
      .flatMap((token) => {
        const near = (byKind.get(token.kind) ?? []).find(
          ({ value }) => Math.abs(Math.abs(value) - Math.abs(token.value)) <= MEANT * Math.abs(value),
        );
        return near ? [`${surface}: ${token.text}, and ${near.name} is ${writtenFigure(near)}`] : [];
      }),
  );
}

/** The load rows as each surface has them, under one name. */
function loadsOf(plan: Plan, surfaces: ReadonlyMap<string, string>): Map<string, Set<string>> {
  const found = new Map<string, Set<string>>();
  const add = (what: string, words: string) => found.set(what, (found.get(what) ?? new Set()).add(words));
  const OF = /([−\d.]+ (?:mA|Ah|A|µA) of [−\d.]+ (?:mA|Ah|A|µA))/;
  if (plan.boards.length !== 1) return found;
  for (const line of (surfaces.get('screen') ?? '').split('\n')) {
    const row = /^(standby|alarm|aux|sounder|battery) +\S+ +(.*)$/.exec(line);
    const words = row && OF.exec(row[2]!)?.[1];
    if (row && words) add(row[1]!, words);
  }
  for (const line of (surfaces.get('text') ?? '').split('\n')) {
    const row = /^b\d+ (standby|in alarm|aux|sounder|battery) +\S+ +(.*)$/.exec(line);
    const words = row && OF.exec(row[2]!)?.[1];
    if (row && words) add(row[1]!.replace('in alarm', 'alarm'), words);
  }
  const page = surfaces.get('page as text') ?? '';
  const titles = {
    standby: 'Current, standby',
    alarm: 'Current in alarm',
    aux: 'Aux in alarm',
    sounder: 'Sounder',
    battery: 'Battery: needed, of what is fitted',
  };
  for (const [what, title] of Object.entries(titles)) {
    const words = new RegExp(`^${title} +${OF.source}`, 'm').exec(page)?.[1];
    if (words) add(what, words);
  }
  return found;
}

/** The same rows from the data, in figures of the test's own rounding. */
function loadsInData(plan: Plan): Map<string, string> {
  const { standbyAmps, alarmAmps, auxAmps, sounderAmps, limitAmps, battery } = plan.supply[0]!;
  const board = plan.boards[0]!;
  const of = (kind: Kind, value: number, limit: number) =>
    `${writtenFigure({ kind, value, end: null })} of ${writtenFigure({ kind, value: limit, end: null })}`;
  const rows = new Map([
    ['standby', of('amps', standbyAmps, limitAmps)],
    ['alarm', of('amps', alarmAmps, limitAmps)],
    ['aux', of('amps', auxAmps, board.aux.amps)],
  ]);
  if (board.sounder) rows.set('sounder', of('amps', sounderAmps, board.sounder.amps));
  if (battery && board.battery)
    rows.set('battery', of('ampHours', battery.requiredAmpHours, board.battery.capacityAmpHours));
  return rows;
}

function typedWords({ typed, unit }: RecordedValue): string {
  return /^[-+\d.]+$/.test(typed) && unit !== null ? `${typed} ${unit}` : typed;
}

const knownOfLeads = (leads: readonly number[]) =>
  leads.map((value): Known => ({ name: 'leads', kind: 'ohms', value, end: null }));

const NOTHING_TYPED: ReadonlySet<string> = new Set();

describe('one quantity stands in one value, unit and rounding, wherever it is read', () => {
  test(`in plans of ${PLANS} random sites (seeds from 0): screen, text, findings and their reasons, JSON`, () => {
    const found: string[] = [];
    const counts = { sites: 0, figures: 0, quantities: 0, rows: 0 };
    for (let seed = 0; seed < PLANS; seed++) {
      const { survey, boards } = randomSurvey(seed, { fits: seed % 3 !== 0 });
      const plan = planChangeover(survey, boards);
      const surfaces = planSurfaces(plan);
      const known = knownOfPlan(plan);
      found.push(...strays(surfaces, known, NOTHING_TYPED).map((words) => `seed ${seed}, ${words}`));
      for (const [what, words] of loadsOf(plan, surfaces)) {
        expect([...words], `seed ${seed} ${what}`).toEqual([loadsInData(plan).get(what)]);
        counts.rows += 1;
      }
      counts.sites += 1;
      counts.quantities += known.length;
      counts.figures += [...surfaces.values()].reduce((sum, text) => sum + tokens(text).length, 0);
    }
    expect(found).toEqual([]);
    report('Figures of plans', [counts]);
    expect(counts.figures).toBeGreaterThan(PLANS * 50);
  }, 600_000);

  test(`in jobs on ${SITES} random sites (seeds from 0): those and cards, page, zone card and history`, () => {
    const found: string[] = [];
    const counts = { sites: 0, blocked: 0, figures: 0, quantities: 0, rows: 0 };
    for (let seed = 0; seed < SITES; seed++) {
      const told = jobSurfaces(randomSite(seed), seed);
      if (told === null) {
        counts.blocked += 1;
        continue;
      }
      const { plan, surfaces, values, corrected, leads, proofs } = told;
      // What somebody typed stays as it was typed.
      const typed = new Set(
        [...values.map(typedWords), ...corrected].flatMap((text) => tokens(text).map((token) => token.text)),
      );
      const known = [...knownOfPlan(plan), ...knownOfJob(proofs, values), ...knownOfLeads(leads)];
      found.push(...strays(surfaces, known, typed).map((words) => `seed ${seed}, ${words}`));
      for (const [what, words] of loadsOf(plan, surfaces)) {
        expect([...words], `seed ${seed} ${what}`).toEqual([loadsInData(plan).get(what)]);
        counts.rows += 1;
      }
      counts.sites += 1;
      counts.quantities += known.length;
      counts.figures += [...surfaces.values()].reduce((sum, text) => sum + tokens(text).length, 0);
    }
    expect(found).toEqual([]);
    report('Figures of jobs', [counts]);
    expect(counts.sites).toBeGreaterThan(SITES / 2);
    expect(counts.figures).toBeGreaterThan(SITES * 100);
  }, 3_600_000);
});
