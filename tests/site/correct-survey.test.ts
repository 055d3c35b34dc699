import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyCorrection, type Change } from '../../source/site/correct-survey.ts';

const demo = readFileSync(new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url), 'utf8');

function corrected(changes: Change[], text = demo) {
  const result = applyCorrection(text, changes, 'survey.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result;
}

function refused(...changes: Change[]): { field: string; says: string }[] {
  const result = applyCorrection(demo, changes, 'survey.yaml');
  return result.ok ? [] : result.problems.map(({ field, says }) => ({ field, says }));
}

/** The lines in which two texts differ. */
function changedLines(before: string, after: string): string[] {
  const old = new Set(before.split('\n'));
  return after.split('\n').filter((line) => !old.has(line));
}

describe('a correction of the survey', () => {
  test('changes the one value and no other character', () => {
    const { text, survey } = corrected([{ path: 'zones.z1.loop.resistor', value: '4k7' }]);
    expect(changedLines(demo, text)).toEqual(['    loop: {style: series, resistor: 4k7, resistorAt: panel}']);
    expect(text.length).toBe(demo.length);
    expect(survey.zones[0]?.loop.resistorOhms).toBe(4700);
  });

  test('keeps the comment beside the value', () => {
    const { text } = corrected([{ path: 'outside.monitored', value: 'no' }]);
    expect(changedLines(demo, text)).toEqual([
      '  monitored: no              # steward thinks the contract lapsed; nobody has the letter',
    ]);
  });

  test('by position where an entry has no id, by number for a terminal', () => {
    const { survey } = corrected([
      { path: 'cables.c1.cores.2.colour', value: 'green' },
      { path: 'panel.terminals.1.role', value: 'unused' },
      { path: 'zones.z1.terminals.1', value: '7' },
    ]);
    expect(survey.cables[0]?.cores[1]?.colour).toBe('green');
    expect(survey.panel.terminals.find((terminal) => terminal.number === '1')?.role).toBe('unused');
  });

  test('adds a field, a detector with its cable, a group that was not there', () => {
    const { text, survey } = corrected([
      { path: 'detectors.shutter.input', value: 'b1/3' },
      {
        path: 'detectors.hatch',
        value: { kind: 'door-contact', contact: 'normally-closed', place: 'entry', cable: 'c15' },
      },
      {
        path: 'cables.c15',
        value: { length: '7 m', conductor: '22 AWG', cores: [{ use: 'loop' }, { use: 'loop' }] },
      },
      { path: 'zones.z1.detectors', value: ['shutter', 'side-door', 'hatch'] },
      {
        path: 'zones.z5.loop',
        value: { style: 'series', resistor: '1k', resistorAt: { detector: 'office-door', by: 'part' } },
      },
      { path: 'mayShare', value: [['z1', 'z5']] },
    ]);
    expect(survey.zones[0]?.detectors).toEqual(['shutter', 'side-door', 'hatch']);
    expect(survey.detectors.at(-1)).toMatchObject({ id: 'hatch', cable: 'c15' });
    expect(survey.detectors[0]?.input).toBe('b1/3');
    expect(survey.zones[4]?.loop.resistorAt).toEqual({ detector: 'office-door', by: 'part' });
    expect(text).toContain('# the outboards are behind it');
    expect(text).toContain(
      '  - {id: hatch, kind: door-contact, contact: normally-closed, place: entry, cable: c15}',
    );
  });

  test('adds an entry field by field, and an entry at the next position', () => {
    const { survey } = corrected([
      { path: 'keypads.kp2.cable', value: 'c13' },
      { path: 'cables.c10.cores.5.use', value: 'spare' },
      { path: 'cables.c10.cores.5.colour', value: 'white' },
    ]);
    expect(survey.keypads.at(-1)).toEqual({ id: 'kp2', cable: 'c13', emergencyKeys: 'unknown' });
    expect(survey.cables[9]?.cores[4]).toMatchObject({ colour: 'white', use: 'spare' });
  });

  test('takes out a field or an entry', () => {
    const { text, survey } = corrected([
      { path: 'keypads.kp', value: null },
      { path: 'detectors.shutter.importance', value: null },
    ]);
    expect(survey.keypads).toEqual([]);
    expect(survey.detectors[0]?.importance).toBe(1);
    expect(text).not.toContain('id: kp');
    expect(text).toContain('# behind the trophy cabinet, on its own socket');
  });

  test('numbers and yes or no may come as such', () => {
    const { survey, text } = corrected([
      { path: 'detectors.pit.importance', value: 5 },
      { path: 'cables.c1.measured', value: true },
      { path: 'zones.z1.name', value: '12' },
    ]);
    expect(survey.detectors.find((detector) => detector.id === 'pit')?.importance).toBe(5);
    expect(survey.cables[0]?.lengthKnown).toBe('measured');
    expect(text).toContain('name: "12"');
  });

  test('a text that YAML would take for something else is quoted', () => {
    for (const name of ['a, b}', 'null', 'x: y', '# no', '"', '-', 'yes #1']) {
      expect(corrected([{ path: 'zones.z1.name', value: name }]).survey.zones[0]?.name).toBe(name);
      expect(corrected([{ path: 'detectors.side-door.name', value: name }]).survey.detectors[1]?.name).toBe(
        name,
      );
    }
  });

  test('where cables share their cores by an alias, only the one that is meant changes', () => {
    const cores =
      '    cores:\n      - {colour: yellow, use: loop}\n      - {colour: blue, use: loop}\n      - {colour: red, use: aux-positive}\n      - {colour: black, use: aux-negative}\n';
    const pieces = demo.split(cores);
    const shared = `${pieces[0]}${cores.replace('cores:', 'cores: &four')}${pieces.slice(1).join('    cores: *four\n')}`;
    const { survey } = corrected([{ path: 'cables.c6.cores.1.colour', value: 'pink' }], shared);
    expect(
      ['c5', 'c6', 'c7'].map((id) => survey.cables.find((cable) => cable.id === id)?.cores[0]?.colour),
    ).toEqual(['yellow', 'pink', 'yellow']);
  });

  test('what it makes of the survey is told like any other problem', () => {
    expect(refused({ path: 'cables.c1.length', value: '20' })).toEqual([
      { field: 'cables.c1.length', says: '"20" has no unit.' },
    ]);
    expect(
      refused({ path: 'zones.z2.terminals', value: ['7', '6'] }).map((problem) => problem.field),
    ).toContain('zones.z2.terminals');
    expect(
      refused({ path: 'detectors.ghost', value: { kind: 'flood', cable: 'c1' } }).map(
        (problem) => problem.field,
      ),
    ).toContain('detectors.ghost');
    expect(refused({ path: 'zones.z1.size', value: 'large' })).toEqual([
      { field: 'zones.z1.size', says: 'This field is not known here.' },
    ]);
  });

  test.each([
    [''],
    ['.'],
    ['zones..loop'],
    ['zones.z1.loop.__proto__.x'],
    ['a.'.repeat(20)],
    ['zones.z1.name.short'],
    ['cables.c1.cores.9.use'],
    ['zones.z1 .name'],
  ])('a path that leads nowhere is refused: "%s"', (path) => {
    const [problem] = refused({ path, value: 'x' });
    expect(problem?.field).toBe(path.slice(0, 120));
  });

  test('taking out what is not there is refused', () => {
    expect(refused({ path: 'detectors.nobody', value: null })).toHaveLength(1);
  });

  test('all paths that are refused are told at once', () => {
    expect(refused({ path: '.', value: 'x' }, { path: 'zones.z1.name.short', value: 'x' })).toHaveLength(2);
  });
});
