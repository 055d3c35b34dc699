import { expect, test } from 'vitest';
import { readHistory } from '../../source/job/history.ts';
import { applyCorrection, type Change } from '../../source/site/correct-survey.ts';
import { mayOpenGate, openedGates } from '../../source/site/opened-gates.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { DEMO_TEXT, demoJob } from './demo-job.ts';

/** What holds a gate, set so first, and then taken away. */
const WAYS: readonly (readonly [path: string, held: Change['value'], free: Change['value']])[] = [
  ['outside.feed', 'mains-in-enclosure', 'plug-in-transformer'],
  ['outside.feed', 'unknown', 'dc-adapter'],
  ['outside.monitored', 'unknown', 'no'],
  ['outside.signalling', 'telephone', 'network'],
  ['outside.lifeSafety', 'unknown', 'none'],
  ['outside.otherFeeds', 'unknown', 'none'],
  ['outside.sounderBattery', 'yes', 'no'],
  ['panel.earthed', 'yes', 'no'],
];

const surveyOf = (text: string) => {
  const read = parseSurvey(text, 'survey.yaml');
  if (!read.ok) throw new Error(JSON.stringify(read.problems.slice(0, 2)));
  return read.survey;
};
const set = (text: string, path: string, value: Change['value']) => {
  const corrected = applyCorrection(text, [{ path, value }]);
  if (!corrected.ok) throw new Error(`${path}: ${JSON.stringify(corrected.problems.slice(0, 2))}`);
  return corrected.text;
};

// That what lets a hand nearer is seen by somebody, and not typed: common practice, no source. On the first build each of
// these was taken on the word "Measured".
test.each(WAYS)('%s from %s to %s takes a gate away, and back takes none', (path, held, free) => {
  const before = set(DEMO_TEXT, path, held);
  const after = set(before, path, free);
  expect(openedGates(surveyOf(before), surveyOf(after)).map(({ field }) => field)).toContain(path);
  expect(openedGates(surveyOf(after), surveyOf(before)).map(({ field }) => field)).not.toContain(path);
  expect(mayOpenGate(path)).toBe(true);
});

test('what says nothing of a gate takes none away', () => {
  const after = set(DEMO_TEXT, 'cables.c1.length', '31 m');
  expect(openedGates(surveyOf(DEMO_TEXT), surveyOf(after))).toEqual([]);
  expect(mayOpenGate('cables.c1.length')).toBe(false);
});

test('a correction that takes a gate away wants what was seen, and the record keeps it', () => {
  const job = demoJob(set(DEMO_TEXT, 'outside.feed', 'mains-in-enclosure'));
  const correct = { do: 'correct', reason: 'Measured', set: [{ path: 'outside.feed', value: 'dc-adapter' }] };
  const isMainsFed = () => job.procedure.steps.some(({ id }) => id === 'electrician.record');
  for (const seen of [{}, { seen: '' }, { seen: 'yes' }, { seen: '        ' }]) {
    expect(job.act({ ...correct, ...seen })).not.toHaveProperty('outcome');
    expect(isMainsFed()).toBe(true);
  }
  expect(job.previewCorrection(correct.set)[0]).toContain('This takes a gate away: outside.feed');
  const seen = 'its plug in the socket behind the bar, 12 V DC printed on it';
  expect(job.act({ ...correct, seen })).toMatchObject({ outcome: 'recorded' });
  expect(isMainsFed()).toBe(false);
  job.close();
  const last = [...readHistory(job.dir)].at(-1);
  expect(last?.says).toContain(`outside.feed from mains-in-enclosure to dc-adapter; seen: ${seen}`);
});
