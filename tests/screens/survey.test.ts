import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readJob } from '../../source/job/read-job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { top } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { nextPair } from '../../source/screens/survey/zone.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { report } from '../scale.ts';
import { CLUB, ENTER } from './club.ts';
import { appOf, keys, picture } from './drive.ts';
import { leadToClosed } from './lead.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'loopward-survey-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Survey screens on a folder of their own. A text in one piece is a name: its letters are not counted. */
function surveying() {
  const shelf = shelfOf(folder, realSystem());
  const store = createStore(appOf({ columns: 80, rows: 24 }), { shelf, saveSettings: () => {} });
  store.dispatch({ type: 'picked', value: 'new' });
  let pressed = 0;
  return {
    store,
    type: (...labels: readonly string[]) => {
      for (const label of labels) {
        const isName = label.startsWith('"');
        for (const key of isName ? keys(...label.slice(1)) : keys(label)) store.keys([key]);
        if (!isName) pressed++;
      }
    },
    answers: () => {
      const screen = top(store.get());
      return screen.kind === 'survey' ? screen.answers : null;
    },
    get pressed() {
      return pressed;
    },
  };
}

describe('a survey from an empty start', () => {
  test('of the demo’s size takes at most 260 keystrokes besides the letters of names', () => {
    const survey = surveying();
    survey.type(...CLUB);
    expect(picture(survey.store)).toContain('What now?');
    report('keystrokes of the survey', [{ pressed: survey.pressed }]);
    expect(survey.pressed).toBeLessThanOrEqual(260);
    survey.type('2');
    const text = readFileSync(join(folder, 'harbour-sailing-club.yaml'), 'utf8');
    const read = parseSurvey(text, 'survey.yaml');
    expect(read).toMatchObject({ ok: true });
    if (!read.ok) return;
    expect(read.survey.zones.map((zone) => zone.terminals.join('+'))).toEqual([
      '8+9',
      '10+9',
      '11+12',
      '13+12',
      '14+15',
      '16+15',
      '17+18',
    ]);
    expect(read.survey.detectors).toHaveLength(11);
    expect(read.survey.zones[1]).toMatchObject({ joined: 'field' });
    expect(read.survey.sounders).toHaveLength(1);
    // A length nobody knows is carried as assumed, and left out of no list.
    expect(read.survey.assumed.some(({ field }) => field === 'length')).toBe(true);
  });

  test('opens a job at once, and the job is led to closed by keys', () => {
    const survey = surveying();
    survey.type(...CLUB, '1');
    const app = survey.store.get();
    expect(top(app).kind).toBe('briefing');
    expect(app.job?.siteName).toBe('Harbour sailing club');
    expect(app.job?.next.open[0]?.stage).toBe('survey');
    leadToClosed(survey.store);
    const { job } = survey.store.get();
    survey.store.close();
    expect(readJob(job!.dir).closed).toBe(true);
    expect(verifyJournal(job!.dir).outcome).toBe('self-consistent');
  });

  test('goes on where it was after a kill at any field', () => {
    const survey = surveying();
    for (const label of CLUB) {
      survey.type(label);
      const begun = surveying();
      expect(begun.answers()).toEqual(survey.answers());
      if (Object.keys(survey.answers() ?? {}).length > 24) break;
    }
  });

  test('lets an answer be gone back to and changed', () => {
    const survey = surveying();
    survey.type('"Club', ENTER, '2', 'up');
    expect(picture(survey.store)).toContain('How is the old panel fed?');
    survey.type('1');
    expect(survey.answers()).toMatchObject({ 'outside.feed': 'plug-in-transformer' });
    expect(picture(survey.store)).toContain('How does it call out?');
  });

  test('that was saved is opened from the list of jobs, to be changed', () => {
    const survey = surveying();
    survey.type(...CLUB, '2');
    const file = join(folder, 'harbour-sailing-club.yaml');
    expect(picture(survey.store)).toContain('Change the survey harbour-sailing-club.yaml');
    survey.store.dispatch({ type: 'picked', value: `edit ${file}` });
    survey.type('down', ENTER, ENTER, '2', 'escape', 'end', ENTER, '2');
    const read = parseSurvey(readFileSync(file, 'utf8'), 'survey.yaml');
    expect(read.ok && read.survey.outside.feed).toBe('dc-adapter');
    expect(read.ok && read.survey.detectors).toHaveLength(11);
  });

  test('finds out what a loop is from a reading on the spot', () => {
    const survey = surveying();
    survey.type(...CLUB.slice(0, CLUB.indexOf(' ') + 3), '7', ...'2204', ENTER);
    expect(picture(survey.store)).toContain('may be one of these');
    survey.type('1');
    expect(picture(survey.store)).toContain('Where does the resistor sit?');
  });

  test('nonsense is told why and settles nothing', () => {
    const survey = surveying();
    survey.type(...CLUB.slice(0, CLUB.indexOf(' ') - 1), 'x', ENTER);
    expect(picture(survey.store)).toContain('Type the two screws');
  });
});

test('the next pair of screws shares a common with the one before, or begins a new one', () => {
  expect(nextPair('8 9')).toBe('10 9');
  expect(nextPair('10 9')).toBe('11 12');
  expect(nextPair('Z1 C')).toBeNull();
});
