import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { PlanJson } from '../../source/plan/plan-to-json.ts';
import { run } from './run.ts';

const CLUB = new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url).pathname;

function patchFile(text: string): string {
  const file = join(mkdtempSync(join(tmpdir(), 'loopward-plan-')), 'change.yaml');
  writeFileSync(file, text);
  return file;
}

describe('loopward plan', () => {
  test('prints the plan of the sailing club as text and as JSON', async () => {
    const text = await run(['plan', CLUB]);
    expect(text.code).toBe(0);
    expect(text.out).toContain('CAUTION');
    const { json } = await run(['plan', CLUB, '--json']);
    const plan = json as PlanJson;
    expect(plan.format).toBe('loopward/plan@1');
    expect(plan.circuits.map(({ detectors }) => detectors.join('+'))).toEqual([
      'shutter',
      'side-door',
      'galley-door+galley-window',
      'hall',
      'hall-glass',
      'loft',
      'office-door+office-window',
      'pit',
    ]);
    expect(plan.heldOut).toEqual([{ detector: 'galley-smoke', reason: 'life-safety' }]);
  });

  test('a board given by the id under which it ships stands in for the one of the survey', async () => {
    const { json } = await run(['plan', CLUB, '--board', 'six-paired', '--json']);
    const plan = json as PlanJson;
    expect(plan.grouping).toMatchObject({ inputsUsed: 6, inputsFree: 0 });
    expect(plan.findings.map(({ code }) => code)).toContain('battery-never-charged');
  });

  test('lays boards side by side', async () => {
    const compare = ['plan', CLUB, '--compare', '--board', 'six-paired', '--board', 'twelve-supervised'];
    const { json, code } = await run([...compare, '--json']);
    const { boards } = json as { boards: { inputsUsed: number; loss: number }[] };
    expect(code).toBe(0);
    expect(boards.map(({ inputsUsed }) => inputsUsed)).toEqual([6, 9]);
    expect(boards[1]!.loss).toBeLessThan(boards[0]!.loss);
    expect((await run(compare)).out).toContain('used+free');
  });

  test('shows what a longer cable and another detector would change, and exits 3 when that blocks', async () => {
    const longer = patchFile('cables: [{id: c7, length: 300 m, measured: yes}]\n');
    const { code, json } = await run(['plan', CLUB, '--change', longer, '--json']);
    const { changes, verdict } = json as {
      verdict: { before: string; after: string };
      changes: { about: string; after: string | null }[];
    };
    expect(code).toBe(3);
    expect(verdict).toEqual({ before: 'caution', after: 'blocked' });
    expect(changes.map(({ about }) => about)).toContain('detector-undervoltage loft');

    const another = patchFile(
      [
        'zones: [{id: z5, detectors: [office-door, office-window, office-hatch]}]',
        'detectors: [{id: office-hatch, kind: window-contact, contact: normally-closed, place: interior, cable: c15}]',
        'cables:',
        '  - {id: c15, length: 8 m, conductor: 22 AWG, cores: [{colour: white, use: loop}, {colour: brown, use: loop}]}',
      ].join('\n'),
    );
    const added = await run(['plan', CLUB, '--change', another]);
    expect(added.code).toBe(0);
    expect(added.out).toContain('office-hatch');
    expect(added.out).toContain('c15/1');
  });

  test('takes the list of a correction as a change, and says when it changes nothing', async () => {
    const listed = patchFile('set: [{path: cables.c7.length, value: 60 m}]\n');
    expect((await run(['plan', CLUB, '--change', listed])).out).toContain('loft');
    const nothing = await run(['plan', CLUB, '--change', patchFile('format: loopward/survey@1\n')]);
    expect(nothing.code).toBe(2);
    expect(nothing.err).toContain('changes nothing');
    expect((await run(['plan', CLUB, '--change', '/no/such/file'])).code).toBe(2);
    const boards = await run(['plan', CLUB, '--change', patchFile('boards: [{id: b1, file: six-paired}]\n')]);
    expect(boards.code).toBe(2);
    expect(boards.err).toContain('--board');
  });

  test('explains a finding with its source, and the grouping with one input more and less', async () => {
    const life = await run(['plan', CLUB, '--explain', 'life-safety-held-out']);
    expect(life.code).toBe(0);
    expect(life.out).toContain('NFPA');
    expect(life.out).toContain('galley-smoke');
    const grouping = await run(['plan', CLUB, '--explain', 'grouping', '--json']);
    const { ways } = grouping.json as { ways: { inputs: number; loss: number }[] };
    expect(ways.map(({ inputs }) => inputs)).toEqual([7, 8, 9]);
    expect(ways[0]!.loss).toBeGreaterThan(ways[1]!.loss);
    expect(ways[2]!.loss).toBeLessThan(ways[1]!.loss);
    const unknown = await run(['plan', CLUB, '--explain', 'weather']);
    expect(unknown.code).toBe(2);
    expect(unknown.err).toContain('grouping');
  });
});
