import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { collectRecords } from '../../source/handover/collect.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import type { HandoverSource } from '../../source/handover/sections/source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { zoneCard } from '../../source/handover/zone-card.tsx';
import { WENT, type Went } from '../../source/job/acts-done.ts';
import { asLeft } from '../../source/job/as-left.ts';
import { readRecords } from '../../source/journal/read.ts';
import type { JournalRecord } from '../../source/journal/record.ts';
import type { Step } from '../../source/procedure/step.ts';
import { carryOutJob } from './jobs.ts';

const folder = mkdtempSync(join(tmpdir(), 'loopward-as-left-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let dir = '';
let whole: HandoverSource;
let records: JournalRecord[] = [];

beforeAll(async () => {
  dir = await carryOutJob('demo', folder);
  whole = readHandoverSource(dir);
  records = [...readRecords(dir)];
});

const REASON = 'The screw is stripped.';
const RISK = 'It may read nonsense.';

/** The same job, in which one step was given up, and each of its acts went so. */
function givenUp(id: string, went: Went): HandoverSource {
  const told = records.flatMap((record): JournalRecord[] => {
    const { data } = record;
    // What was stored at the close is worked out anew: the job was another one.
    if (data.part === 'left') return [];
    if (record.kind !== 'act' || data.step !== id || data.do !== 'confirm') return [record];
    const acts = (data.acts as { went?: string }[] | undefined)?.map((act) =>
      went === 'done' ? act : { ...act, went },
    );
    const given = {
      do: 'deviate',
      by: data.by,
      step: id,
      outcome: 'recorded',
      causes: [],
      reason: REASON,
      residualRisk: RISK,
    };
    return [
      {
        ...record,
        data: { ...given, ...(acts && { acts }), event: { type: 'deviate', step: id } },
      } as JournalRecord,
    ];
  });
  const collected = collectRecords(told, whole.known);
  return { ...whole, collected, left: asLeft(collected.replay) };
}

const papersOf = (source: HandoverSource) => composeHandover(source, 'a4-65');
const textOf = (source: HandoverSource) => papersOf(source).get('handover.txt')!;
/** What stands on page one before all else. */
const firstOf = (text: string) => text.slice(text.indexOf('FIRST: '), text.indexOf('WHAT REPORTS WHERE'));
const leftOf = (text: string) =>
  text.slice(text.indexOf('\nAS LEFT\n'), text.indexOf('THE RECORD, IN ORDER'));
const soft = () => whole.collected.replay.procedure.steps.filter(({ hard }) => !hard);
const withActs = (does: string): Step[] => soft().filter(({ acts }) => acts.some((act) => act.do === does));

describe('a job that went by plan', () => {
  test('is left as it was planned, wire by wire, resistor by resistor, with nothing to say first', () => {
    expect(whole.left?.differs).toEqual([]);
    const text = textOf(whole);
    expect(firstOf(text)).not.toContain('Not as planned');
    expect(firstOf(text)).not.toContain('NOT TESTED');
    for (const line of zoneCard(whole)) expect(line.reports).not.toContain('NOT ');
  });

  test('has what was left stored before its close, and prints that', () => {
    const stored = records.filter(({ data }) => data.part === 'left');
    const close = records.find(({ data }) => data.do === 'close')!;
    expect(stored.length).toBeGreaterThan(0);
    expect(Math.max(...stored.map(({ n }) => n))).toBe(close.n - 1);
    expect(whole.collected.replay.storedAsLeft).toEqual(whole.left);
    // Whatever the program would fold from the records: what is stored is what is told.
    const moved = records.map((record) =>
      record.data.part === 'left'
        ? ({
            ...record,
            data: { ...record.data, text: String(record.data.text).replace('b1:I7', 'b1:I9') },
          } as JournalRecord)
        : record,
    );
    const collected = collectRecords(moved, whole.known);
    const told = textOf({ ...whole, collected, left: asLeft(collected.replay) });
    expect(leftOf(told)).not.toMatch(/I7 \(.*\n\s+c8\/1/);
  });
});

describe.each(['not-done', 'unknown'] as const)(
  'a step of the demo that is given up, its acts %s',
  (went) => {
    test('leaves no resistor that was not taken out as removed', () => {
      const steps = [...withActs('remove-resistor'), ...withActs('set-jumper')];
      expect(steps.length).toBe(5);
      for (const { id, about } of steps) {
        const source = givenUp(id, went);
        const text = textOf(source);
        const zone = about[0]!;
        const row = text.split('\n').filter((line) => line.startsWith('b1 ') && line.includes('2.2 kΩ'));
        const own = row.filter((line) =>
          source.plan.circuits.some((one) => one.fromZone === zone && line.startsWith(`b1 ${one.input} `)),
        );
        expect(own.length, id).toBeGreaterThan(0);
        for (const line of own) {
          expect(line, id).not.toContain('removed 2.2 k');
          expect(line, id).toContain(went === 'unknown' ? 'NOT KNOWN whether out' : 'still in');
        }
        const first = firstOf(text);
        expect(first, id).toContain(went === 'unknown' ? 'nobody can say' : 'is still in');
        for (const words of [REASON, RISK, 'Robin Vale'])
          expect(first.slice(0, first.indexOf('Deviations')), id).toContain(words);
      }
    });

    test('leaves no wire that was not landed on an input, nor its detector on the card in the door', () => {
      const steps = withActs('land');
      expect(steps.length).toBe(10);
      for (const { id, acts } of steps) {
        const source = givenUp(id, went);
        const text = textOf(source);
        const left = leftOf(text);
        const board = left.slice(0, left.search(/\n\n(Parked|Loose|Nobody)/));
        const labels = papersOf(source).get('labels.txt')!;
        for (const act of acts) {
          if (act.do !== 'land') continue;
          expect(board, `${id} ${act.conductor}`).not.toContain(`${act.conductor} `);
          expect(labels, act.conductor).toMatch(
            new RegExp(`^${act.conductor} .*→ ${went === 'unknown' ? 'not known' : 'loose'}`, 'm'),
          );
          expect(firstOf(text), id).toContain(
            `(${act.conductor}) is${went === 'unknown' ? ', nobody can say' : ' loose'}`,
          );
        }
        const loops = source.plan.circuits.filter(
          ({ terminal, common }) =>
            acts.some((act) => act.do === 'land' && [`b1:${terminal}`, `b1:${common}`].includes(act.at)) &&
            acts.some((act) => act.do === 'land' && act.at === `b1:${terminal}`),
        );
        for (const { input } of loops) {
          const line = zoneCard(source).find((one) => one.input === `b1 ${input}`)!;
          expect(line.reports, id).toMatch(went === 'unknown' ? /^NOT KNOWN/ : /^NOT CONNECTED/);
        }
      }
    });

    test('that joins or parts is told where the wires are not apart', () => {
      for (const { id, acts } of withActs('part')) {
        const source = givenUp(id, went);
        // Landed wire by wire since: they are apart, and nothing is said but the deviation.
        expect(source.left?.differs, id).toEqual([]);
        expect(firstOf(textOf(source)), id).toContain(REASON);
        expect(acts.length).toBe(1);
      }
    });

    test('leaves a board unmounted, and what is said to be landed on it where it is said to be', () => {
      const source = givenUp('mount.b1', went);
      expect(source.left?.differs.map(({ subject, is }) => [subject, is])).toEqual([
        ['b1', went === 'unknown' ? 'unknown' : 'not mounted'],
      ]);
      expect(firstOf(textOf(source))).toContain(
        went === 'unknown' ? 'b1: whether it is mounted' : 'b1 is not mounted',
      );
      for (const line of zoneCard(source)) expect(line.reports).not.toContain('NOT ');
    });

    test('leaves a source as it is', () => {
      const source = givenUp('sounder.restore.gable', went);
      const first = firstOf(textOf(source));
      expect(first).toContain(
        went === 'unknown'
          ? 'The battery of sounder gable: whether it is on, nobody can say'
          : 'The battery of sounder gable is off; planned on',
      );
    });
  },
);

describe('a step of the demo that is given up', () => {
  test('with all its acts done, leaves everything as planned: the proof alone is missing', () => {
    for (const does of ['remove-resistor', 'set-jumper', 'land', 'part', 'mount']) {
      for (const { id } of withActs(does)) {
        const source = givenUp(id, 'done');
        expect(source.left?.differs, id).toEqual([]);
        expect(firstOf(textOf(source)), id).toContain(REASON);
      }
    }
  });

  test('where it is a walk test, is no test: on page one, in its row and on the card in the door', () => {
    const walks = soft().filter(
      ({ id }) =>
        id.startsWith('walk.') && whole.plan.survey.detectors.some((one) => id === `walk.${one.id}`),
    );
    expect(walks.length).toBe(10);
    for (const { id, title } of walks) {
      const source = givenUp(id, 'done');
      const first = firstOf(textOf(source));
      expect(first.slice(first.indexOf('NOT TESTED'), first.indexOf('Deviations')), id).toContain(title);
      const detector = id.slice('walk.'.length);
      const circuit = source.plan.circuits.find(({ detectors }) => detectors.includes(detector))!;
      const line = zoneCard(source).find((one) => one.input === `b1 ${circuit.input}`)!;
      expect(line.reports, id).toContain('NOT TESTED');
      expect(line.reports, id).not.toContain('NOT CONNECTED');
      const others = zoneCard(source).filter((one) => one.input !== line.input);
      for (const one of others) expect(one.reports, id).not.toContain('NOT TESTED');
    }
  });

  test('is told of an act at a time: of two wires one may be landed', () => {
    const id = 'rewire.c1';
    const told = records.map((record): JournalRecord => {
      const { data } = record;
      if (data.part === 'left') return { ...record, data: { part: 'none' } };
      if (data.step !== id || data.do !== 'confirm') return record;
      const [first, second] = data.acts as object[];
      const acts = [first, { ...second, went: 'not-done' }];
      const given = {
        do: 'deviate',
        by: data.by,
        step: id,
        outcome: 'recorded',
        reason: REASON,
        residualRisk: RISK,
      };
      return {
        ...record,
        data: { ...given, acts, event: { type: 'deviate', step: id } },
      } as unknown as JournalRecord;
    });
    const collected = collectRecords(told, whole.known);
    const source = { ...whole, collected, left: asLeft(collected.replay) };
    expect(source.left?.differs.map(({ subject }) => subject)).toEqual(['c1/2']);
    expect(leftOf(textOf(source))).toMatch(/I1 \(Boat-store shutter\):\n\s+c1\/1 white/);
    expect(zoneCard(source)[0]?.reports).toBe('NOT CONNECTED: Boat-store shutter');
  });

  test('every answer is one of three', () => {
    expect([...WENT]).toEqual(['done', 'not-done', 'unknown']);
  });
});
