import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { planOnce } from '../../source/commands/plan-once.ts';
import { siteOf } from '../../source/commands/problems.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';

const FIXTURES = join(import.meta.dirname, '../../fixtures');
const folder = mkdtempSync(join(tmpdir(), 'loopward-plan-once-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The demo's survey and board in a folder of their own, and how often they are planned. */
function club(name: string) {
  const survey = join(folder, `${name}.yaml`);
  const board = join(folder, `${name}-board.yaml`);
  copyFileSync(join(FIXTURES, 'sailing-club/survey.yaml'), survey);
  copyFileSync(join(FIXTURES, 'boards/eight-paired.yaml'), board);
  const kept = new Map<string, Uint8Array>();
  const keeper = {
    read: (key: string) => kept.get(key),
    keep: (key: string, bytes: Uint8Array) => void kept.set(key, bytes),
  };
  const counted = { made: 0 };
  const plan = (boards = [board], meanwhile = () => {}) =>
    planOnce(survey, boards, keeper, async () => {
      counted.made += 1;
      const site = siteOf(survey, boards);
      meanwhile();
      return { plan: planChangeover(site.survey, site.boards), site };
    });
  return { survey, board, kept, counted, plan };
}

function change(file: string, from: string, to: string): void {
  const text = readFileSync(file, 'utf8');
  expect(text).toContain(from);
  writeFileSync(file, text.replace(from, to));
}

describe('a plan of the same survey and boards', () => {
  test('is made once, and is the same to its suspects', async () => {
    const { plan, counted } = club('same');
    const first = await plan();
    const again = await plan();
    expect(counted.made).toBe(1);
    expect(again).toEqual(first);
    expect(again.points[0]!.suspects.length).toBeGreaterThan(10);
  });

  test('is made anew for any other text, and for other boards', async () => {
    const { survey, board, plan, counted } = club('changed');
    const { findings } = await plan();
    change(survey, 'holdUp: 12 h', 'holdUp: 72 h');
    expect((await plan()).findings).not.toEqual(findings);
    expect(counted.made).toBe(2);
    change(board, 'current: ', 'current: 1');
    await plan();
    expect(counted.made).toBe(3);
    await plan(['twelve-supervised']);
    expect(counted.made).toBe(4);
    await plan();
    expect(counted.made).toBe(4);
  });

  test('is kept under the text that was planned, whatever is written to the file meanwhile', async () => {
    const { survey, board, plan, counted } = club('meanwhile');
    await plan([board], () => change(survey, 'holdUp: 12 h', 'holdUp: 72 h'));
    const { findings } = await plan();
    expect(counted.made).toBe(2);
    expect(findings.map(({ code }) => code)).toContain('battery-too-small');
    change(survey, 'holdUp: 72 h', 'holdUp: 12 h');
    expect((await plan()).findings).not.toEqual(findings);
    expect(counted.made).toBe(2);
  });

  test('is told what is wrong as ever once its survey or a board is spoiled or gone', async () => {
    const { survey, board, plan } = club('spoiled');
    await plan();
    rmSync(board);
    await expect(plan()).rejects.toThrow('no such file');
    copyFileSync(join(FIXTURES, 'boards/eight-paired.yaml'), board);
    writeFileSync(survey, 'format: [');
    await expect(plan()).rejects.toThrow('cannot be read as YAML');
  });

  test('is sealed: without the survey nobody reads the place, nor anything else', async () => {
    const { kept, plan } = club('sealed');
    await plan();
    const [bytes] = [...kept.values()];
    const text = Buffer.from(bytes!).toString('latin1');
    for (const word of ['Harbour', 'HSC-7', 'boat', 'eight-paired', 'findings'])
      expect(text).not.toContain(word);
  });

  test('is made anew where what was kept is damaged, at whichever byte', async () => {
    const { kept, plan, counted } = club('damaged');
    const first = await plan();
    const [name, bytes] = [...kept][0]!;
    for (const at of [0, 11, 12, bytes.length >> 1, bytes.length - 17, bytes.length - 1]) {
      const damaged = Buffer.from(bytes);
      damaged[at]! ^= 1;
      kept.set(name, damaged);
      const before = counted.made;
      expect(await plan()).toEqual(first);
      expect(counted.made, `byte ${at}`).toBe(before + 1);
    }
    kept.set(name, bytes.subarray(0, 5));
    expect(await plan()).toEqual(first);
  });
});
