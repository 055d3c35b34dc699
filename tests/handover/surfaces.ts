import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { readHistory } from '../../source/job/history.ts';
import { detailOf } from '../../source/job/history-detail.ts';
import type { RecordedValue } from '../../source/job/records.ts';
import { readRecords } from '../../source/journal/read.ts';
import { explain } from '../../source/plan/explain/explain.ts';
import { FINDING_CODES } from '../../source/plan/finding-codes.ts';
import type { Plan } from '../../source/plan/plan.ts';
import { planToText } from '../../source/plan/plan-to-text.ts';
import type { Proof } from '../../source/procedure/step.ts';
import { rehearse } from '../../source/rehearsal/rehearse.ts';
import type { Room } from '../../source/screens/draw/frame.ts';
import { GLYPHS } from '../../source/screens/draw/glyphs.ts';
import { plain } from '../../source/screens/draw/line.ts';
import { PALETTES } from '../../source/screens/draw/palette.ts';
import { windowWords } from '../../source/screens/draw/scale.ts';
import { PLAN_PARTS } from '../../source/screens/plan/parts.ts';
import { type Site, withJob } from '../rehearsal/run-rehearsal.ts';
import { portOf } from '../rehearsal/trial.ts';
import { seenText } from './page-reader.ts';

const ROOM: Room = {
  columns: 140,
  rows: 50,
  glyphs: GLYPHS.unicode,
  palette: PALETTES.dark,
  linear: false,
  units: 'metric',
};

/** What people read of a plan: text by surface. */
export function planSurfaces(plan: Plan): Map<string, string> {
  const found = new Set(plan.findings.map(({ code }) => code));
  return new Map([
    ['screen', PLAN_PARTS.flatMap(({ lines }) => lines(plan, ROOM).map(plain)).join('\n')],
    ['text', planToText(plan, 140)],
    ['findings', plan.findings.map(({ message }) => message).join('\n')],
    [
      'explained',
      FINDING_CODES.filter((code) => found.has(code))
        .map((code) => explain(plan, code, 140).split('In this plan')[1] ?? '')
        .join('\n'),
    ],
  ]);
}

export type Told = {
  readonly plan: Plan;
  readonly surfaces: ReadonlyMap<string, string>;
  readonly values: readonly RecordedValue[];
  /** What corrections wrote into the survey, as it was written. */
  readonly corrected: readonly string[];
  /** What the leads of the meter read by themselves. */
  readonly leads: readonly number[];
  readonly proofs: readonly Proof[];
};

/** The same of a job that is carried out on a site: cards, page, zone card and history too. Null where it is blocked. */
export function jobSurfaces(site: Site, seed: number): Told | null {
  return withJob(site, (job, scene, dir) => {
    rehearse(portOf(job), scene, seed, []);
    const source = readHandoverSource(dir);
    const papers = composeHandover(source, 'a4-65');
    const steps = source.collected.entries.flatMap(({ step }) =>
      step === null || step === undefined ? [] : [step],
    );
    const proofs = steps.flatMap(({ proof }) => proof);
    const cards = steps.flatMap(({ title, why, proof }) => [
      title,
      why,
      ...proof.flatMap((one) => [one.label, ...(one.kind === 'reading' ? [cardWindow(one)] : [])]),
    ]);
    const surfaces = new Map([
      ...planSurfaces(source.plan),
      ['cards', cards.join('\n')],
      ['page', seenText(papers.get('handover.html')!)],
      ['page as text', papers.get('handover.txt')!],
      ['zone card', papers.get('zone-card.txt')!],
      // Records that store survey and steps hold them as they were written.
      [
        'history',
        [...readHistory(dir)]
          .filter(({ kind }) => kind !== 'basis')
          .flatMap(detailOf)
          .join('\n'),
      ],
    ]);
    const records = [...readRecords(dir)];
    const values = records.flatMap(({ data }) =>
      Object.values((data.values ?? {}) as unknown as Record<string, RecordedValue>),
    );
    const corrected = records
      .filter(({ kind }) => kind === 'correct')
      .map(({ data }) => JSON.stringify(data));
    const leads = records.flatMap(({ data }) =>
      typeof data.zeroMilliohms === 'number' ? [data.zeroMilliohms / 1000] : [],
    );
    return { plan: source.plan, surfaces, values, corrected, leads, proofs };
  });
}

const QUANTITY = { ohms: 'ohms', 'volts-dc': 'volts', 'volts-ac': 'volts', amps: 'amps' } as const;

function cardWindow(proof: Extract<Proof, { kind: 'reading' }>): string {
  const { min, max, usable, open, of } = proof;
  return windowWords({ quantity: QUANTITY[of], min, max, usable, open });
}
