import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { realSystem } from '../../source/journal/system.ts';
import { type Screen, top } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { type Removing, removal } from '../../source/screens/edit/remove.ts';
import { siteOf } from '../../source/screens/edit/site.ts';
import { placesIn, rowsIn } from '../../source/screens/edit/state.ts';
import type { ScreenSettings } from '../../source/screens/settings.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { BOARDS } from '../../source/screens/survey/options.ts';
import { applyCorrection } from '../../source/site/correct-survey.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { appOf, keys, picture } from './drive.ts';

const WRITTEN = join(import.meta.dirname, '../../fixtures/sailing-club/survey.yaml');

let folder = '';
let file = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-edit-'));
  file = join(folder, 'club.yaml');
  copyFileSync(WRITTEN, file);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A survey file opened in the screens, from the list of jobs. */
function editing(settings: Partial<ScreenSettings> = {}) {
  const shelf = shelfOf(join(folder, 'jobs'), realSystem());
  const store = createStore(appOf({ columns: 80, rows: 24 }, settings), { shelf, saveSettings: () => {} });
  store.dispatch({ type: 'picked', value: `edit ${file}` });
  const shown = (): Extract<Screen, { kind: 'edit' }> => {
    const screen = top(store.get());
    if (screen.kind !== 'edit') throw new Error(`The screen is ${screen.kind}.`);
    return screen;
  };
  const type = (...labels: readonly string[]) => {
    for (const label of labels) {
      for (const key of label.startsWith('"') ? keys(...label.slice(1)) : keys(label)) store.keys([key]);
    }
  };
  return {
    store,
    type,
    shown,
    picture: () => picture(store),
    /** Goes to a place and opens it, then to the row that says this; by arrows alone. */
    goTo: (place: string, label?: string) => {
      while (shown().place !== null) type('escape');
      const wanted = placesIn(shown().text).findIndex(({ title }) => title.includes(place));
      type('home', ...Array.from({ length: wanted }, () => 'down'), 'enter');
      if (label === undefined) return;
      for (let left = rowsIn(shown()).length; left > 0; left--) {
        const row = rowsIn(shown())[shown().at];
        const path =
          row?.kind === 'field' ? `${row.base}.${row.def.field}` : row?.kind === 'add' ? row.label : '';
        if (path.includes(label)) break;
        type('down');
      }
      type('enter');
    },
  };
}

const read = (text: string) => {
  const parsed = parseSurvey(text, 'survey.yaml');
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
  return parsed.survey;
};

/** The lines of two texts that are not in both, as often as they stand in one of them, in order. */
function difference(before: string, after: string): { gone: readonly string[]; fresh: readonly string[] } {
  const beyond = (lines: readonly string[], others: readonly string[]) => {
    const left = [...others];
    return lines.filter((line) => {
      const at = left.indexOf(line);
      if (at >= 0) left.splice(at, 1);
      return at < 0;
    });
  };
  const [old, fresh] = [before.split('\n'), after.split('\n')];
  return { gone: beyond(old, fresh), fresh: beyond(fresh, old) };
}

describe('a survey that somebody wrote by hand', () => {
  test('is opened, one length changed and a detector added: nothing else of the file changes', () => {
    const edit = editing();
    edit.goTo('Boat store', 'cables.c1.length');
    edit.type('"19', 'enter');
    edit.goTo('Sail loft', 'Another detector');
    edit.type('"Hatch', 'enter', '1', 'enter', '"7', 'enter', 'enter', 'enter');
    edit.goTo('Save');
    edit.type('2');
    const [before, after] = [readFileSync(WRITTEN, 'utf8'), readFileSync(file, 'utf8')];
    expect(difference(before, after)).toEqual({
      gone: ['    detectors: [loft]', '    length: 18 m'],
      fresh: [
        '    detectors: [loft, hatch]',
        '    joined: panel',
        '  - {id: hatch, name: Hatch, kind: door-contact, contact: normally-closed, place: entry, cable: c15}',
        '    length: 19 m',
        '  - id: c15',
        '    length: 7 m',
        '    conductor: 22 AWG',
        '    cores:',
        '      - {colour: white, use: loop}',
        '      - {colour: brown, use: loop}',
      ],
    });
    const [was, is] = [read(before), read(after)];
    expect(is.cables.filter(({ id }) => id !== 'c1' && id !== 'c15')).toEqual(
      was.cables.filter(({ id }) => id !== 'c1'),
    );
    expect(is.detectors.filter(({ id }) => id !== 'hatch')).toEqual(was.detectors);
    expect(is.zones.filter(({ id }) => id !== 'z4')).toEqual(was.zones.filter(({ id }) => id !== 'z4'));
    expect(is.panel).toEqual(was.panel);
    expect(readFileSync(join(folder, 'club.before.yaml'), 'utf8')).toBe(before);
  });

  test('is changed in each of its parts: zone, loop, feed, sounder, keypad, board', () => {
    const edit = editing();
    edit.goTo('Race office', 'loop.style');
    edit.type('1');
    edit.goTo('Race office', 'loop.resistor');
    edit.type('"4k7', 'enter');
    edit.goTo('Pump pit', 'terminals');
    edit.type('"16 18', 'enter');
    edit.goTo('Sail loft', 'resistorAt');
    edit.type('1');
    edit.goTo('Feed and panel', 'outside.feed');
    edit.type('3');
    edit.goTo('hall', 'detectors.hall.supply');
    edit.type('"18 30', 'enter');
    edit.goTo('Sounders', 'gable.current');
    edit.type('"400', 'enter');
    edit.goTo('Sounders', 'kp.emergencyKeys');
    edit.type('2');
    edit.goTo('boards', 'b1');
    edit.type(`${BOARDS.findIndex(([name]) => name === 'twelve-supervised') + 1}`);
    const { text } = edit.shown();
    const survey = read(text);
    const zone = (id: string) => survey.zones.find((one) => one.id === id);
    expect(zone('z5')?.loop).toMatchObject({ style: 'series', resistorOhms: 4700 });
    expect(zone('z6')?.terminals).toEqual(['16', '18']);
    expect(zone('z4')?.loop.resistorAt).toBe('panel');
    expect(survey.outside.feed).toBe('hard-wired-transformer');
    expect(survey.detectors.find(({ id }) => id === 'hall')?.supply).toMatchObject({
      standbyAmps: 0.018,
      alarmAmps: 0.03,
      minimumVolts: 9.5,
    });
    expect(survey.sounders[0]?.currentAmps).toBe(0.4);
    expect(survey.keypads[0]?.emergencyKeys).toBe('fire');
    expect(survey.boards).toEqual([{ id: 'b1', file: 'twelve-supervised' }]);
    // Every comment of the file is still there.
    const comments = (of: string) => [...of.matchAll(/#.*$/gm)].map(([comment]) => comment);
    expect(comments(text)).toEqual(comments(readFileSync(WRITTEN, 'utf8')));
  });

  test('takes another zone, with the questions of a first survey', () => {
    const edit = editing();
    edit.goTo('Another zone');
    edit.type('"Slipway', 'enter', '"19 20', 'enter', '2');
    edit.type('"Slip gate', 'enter', '1', '"30', 'enter', 'enter', 'enter', 'enter');
    expect(edit.picture()).toContain('Zone z8, Slipway');
    expect(read(edit.shown().text).zones.at(-1)).toMatchObject({ id: 'z8', detectors: ['slip-gate'] });
  });

  test('is where it was after a kill, at every field', () => {
    const edit = editing();
    edit.goTo('Boat store', 'cables.c1.length');
    edit.type('"19', 'enter');
    edit.goTo('Sail loft', 'Another detector');
    for (const keysOfField of [['"Loft hatch', 'enter'], ['1'], ['enter'], ['"7', 'enter']]) {
      edit.type(...keysOfField);
      const { text, asking } = edit.shown();
      const again = editing();
      expect(again.shown()).toMatchObject({ text, asking });
    }
    expect(readFileSync(file, 'utf8')).toBe(readFileSync(WRITTEN, 'utf8'));
  });

  test('given up, stays as it is; saved beside what somebody else changed meanwhile, neither is lost', () => {
    const edit = editing();
    const change = (metres: string) => {
      edit.goTo('Boat store', 'cables.c1.length');
      edit.type(`"${metres}`, 'enter');
      edit.goTo('Save');
    };
    change('19');
    edit.type('3');
    expect(readdirSync(folder).sort()).toEqual(['club.yaml', 'jobs']);
    edit.store.dispatch({ type: 'picked', value: `edit ${file}` });
    change('20');
    const theirs = readFileSync(WRITTEN, 'utf8').replace('length: 21 m', 'length: 22 m');
    writeFileSync(file, theirs);
    edit.type('2');
    expect(readFileSync(file, 'utf8')).toBe(theirs);
    expect(read(readFileSync(join(folder, 'club.changed.yaml'), 'utf8')).cables[0]?.lengthMetres).toBe(20);
  });

  test('that cannot be read says where and why; nonsense is refused and the question stays', () => {
    writeFileSync(file, readFileSync(WRITTEN, 'utf8').replace('feed: plug-in-transformer', 'feed: magic'));
    const broken = createStore(appOf({ columns: 80, rows: 24 }), {
      shelf: shelfOf(join(folder, 'jobs'), realSystem()),
      saveSettings: () => {},
    });
    broken.dispatch({ type: 'picked', value: `edit ${file}` });
    expect(top(broken.get()).kind).toBe('jobs');
    expect(broken.get().notice?.says).toMatch(/club\.yaml, line 9: .*plug-in-transformer/);
    copyFileSync(WRITTEN, file);
    const edit = editing();
    edit.goTo('Boat store', 'cables.c1.conductor');
    edit.type('"thick', 'enter');
    expect(edit.shown().says).toContain('cables.c1.conductor');
    expect(edit.shown().asking).not.toBeNull();
    expect(edit.shown().text).toBe(readFileSync(WRITTEN, 'utf8'));
  });

  test('takes feet where feet are set, and metres as well; which is meant is said', () => {
    const edit = editing({ units: 'imperial' });
    edit.goTo('Boat store', 'cables.c1.length');
    expect(edit.picture()).toContain('a bare figure is in ft; with its unit m does as well');
    edit.type('"60', 'enter');
    expect(read(edit.shown().text).cables[0]?.lengthMetres).toBeCloseTo(18.288, 9);
    edit.goTo('Boat store', 'cables.c2.length');
    edit.type('"20 m', 'enter');
    expect(read(edit.shown().text).cables[1]?.lengthMetres).toBe(20);
    expect(edit.picture()).toContain('20 m = 65.6 ft');
  });
});

describe('what is taken out of a survey', () => {
  const text = readFileSync(WRITTEN, 'utf8');
  const site = () => {
    const read = siteOf(text);
    if (!read) throw new Error('The demo cannot be read.');
    return read;
  };
  const parts: readonly Removing[] = [
    ...site().survey.detectors.map(({ id }) => ({ what: 'detector', id }) as const),
    ...site().survey.zones.map(({ id }) => ({ what: 'zone', id }) as const),
  ].filter(({ id }) => id !== 'galley-smoke' && id !== 'z7');

  test.each(['galley-smoke', 'z7'])('is never a life-safety circuit: %s stays, and is left alone', (id) => {
    const { changes, says } = removal(site(), { what: id === 'z7' ? 'zone' : 'detector', id });
    expect(changes).toEqual([]);
    expect(says).toContain('life safety');
  });

  test.each(parts)(
    '$what $id goes with what only it needs, and every other line stays as written',
    (part) => {
      const { changes } = removal(site(), part);
      const corrected = applyCorrection(text, changes);
      expect(corrected).toMatchObject({ ok: true });
      if (!corrected.ok) return;
      const before = text.split('\n');
      const { survey } = corrected;
      expect([...survey.detectors, ...survey.zones].map(({ id }) => id)).not.toContain(part.id);
      const changed = corrected.text.split('\n').filter((line) => !before.includes(line));
      // A list of detectors, or how they are joined, is written anew; nothing else is.
      for (const line of changed)
        expect(line).toMatch(/detectors|joined|mayShare|resistorAt|zones|id: z|loop/);
      const used = new Set(
        [...survey.detectors, ...survey.sounders, ...survey.keypads].map((one) => one.cable),
      );
      const gone = site().survey.cables.filter(({ id }) => !survey.cables.some((one) => one.id === id));
      for (const { id } of gone) expect(used).not.toContain(id);
    },
  );

  test('is asked about with what goes with it, and stays where nobody says yes', () => {
    const { goTo, type, shown, picture: seen } = editing();
    goTo('Zone z1');
    type('end', 'enter');
    expect(seen()).toContain('Take zone z1 out of the survey?');
    expect(seen().replaceAll(/\s+/g, ' ')).toContain('Its screws 7 and 6 stay on the panel');
    type('enter', '1');
    expect(shown().text).toBe(text);
    type('end', 'enter', '2');
    expect(shown().place).toBeNull();
    expect(placesIn(shown().text).map(({ id }) => id)).not.toContain('zone z1');
    expect(seen()).toContain('changed, not saved yet');
  });
});
