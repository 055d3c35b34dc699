import { describe, expect, test } from 'vitest';
import { runPlain } from '../../source/screens/plain/run.ts';
import { smallJob } from './small-job.ts';

async function talk(
  lines: readonly string[],
  job = smallJob(),
): Promise<{ said: string[]; job: ReturnType<typeof smallJob> }> {
  const rest = [...lines];
  const said: string[] = [];
  const code = await runPlain(job, {
    say: (line) => said.push(line),
    hear: async () => rest.shift() ?? null,
  });
  expect(code).toBe(0);
  return { said, job };
}

const SHIFT = ['Nadia', '2', '0.4'];
const TO_CLOSED = [...SHIFT, '1', '1', '17', '0.02', '12', '14', '2190', '1', '1', '2'];

describe('question and answer, line by line', () => {
  test('lead the same job to closed', async () => {
    const { said, job } = await talk(TO_CLOSED);
    expect(job.look().next.closed).toBe(true);
    expect(said.at(-1)).toContain('closed');
    expect(job.acted.filter((action) => action.do === 'confirm')).toHaveLength(5);
  });

  test('tell where the job stands in the order in which it must be known', async () => {
    const { said } = await talk([]);
    const at = (words: string) => said.findIndex((line) => line.includes(words));
    const order = ['Who:', 'Supply:', '(not proved)', 'Warning:', 'To be proved again', 'Last:', 'Next:'].map(
      at,
    );
    expect(order.every((index) => index >= 0)).toBe(true);
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });

  test('whoever comes back says who it is before anything is asked of the work', async () => {
    const { job } = await talk(SHIFT);
    const asked = 'Who is there: Nadia, or somebody else?';
    const same = await talk(['', '/history', '1', '1'], job);
    expect(same.said.filter((line) => line.includes(asked))).toHaveLength(2);
    // The card comes only once that is answered.
    const card = same.said.findIndex((line) => line.includes('Supply: ') && line.includes(' of '));
    expect(card).toBeGreaterThan(same.said.findLastIndex((line) => line.includes(asked)));
    const shifts = () => job.acted.filter((action) => action.do === 'start-shift').length;
    expect(shifts()).toBe(1);
    await talk(['2', 'Tomos', '2', '0.4'], job);
    expect(shifts()).toBe(2);
    expect(job.acted.at(-1)).toMatchObject({ do: 'start-shift', name: 'Tomos' });
  });

  test('an empty line answers nothing', async () => {
    const { said, job } = await talk([...SHIFT, '', '', '']);
    expect(job.acted.map((action) => action.do)).toEqual(['start-shift']);
    expect(said.filter((line) => line.includes('Press the number of an answer'))).toHaveLength(3);
  });

  test('a reading that does not fit is explained, and asked for again', async () => {
    const { said, job } = await talk([...SHIFT, '1', '1', '17', '0.02', '12', '14', '4400', '2190']);
    expect(said.some((line) => line.includes('A resistor is still in the loop'))).toBe(true);
    expect(job.look().status['measure.z1']).toBe('done');
  });

  test('words with a stroke reach everything else', async () => {
    const { said, job } = await talk([
      ...SHIFT,
      '/note',
      'rain from ten on',
      '/doubt',
      '/steps',
      '/history',
      '/help',
      '/quit',
    ]);
    expect(job.acted.map((action) => action.do)).toEqual(expect.arrayContaining(['note', 'doubt']));
    expect(said.some((line) => line.includes('/steps all open steps'))).toBe(true);
  });

  test('no line holds anything but text', async () => {
    const { said } = await talk(TO_CLOSED);
    for (const line of said) expect(line).not.toMatch(/[\x00-\x1f]/);
  });
});
