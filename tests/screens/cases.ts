import { readFileSync } from 'node:fs';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { challengeTo } from '../../source/job/challenge.ts';
import { tourStops } from '../../source/job/hearing/tour.ts';
import type { App, AppEvent } from '../../source/screens/app/state.ts';
import type { ScreenSettings } from '../../source/screens/settings.ts';
import { CLUB } from './club.ts';
import { drive, SHIFT, type Size } from './drive.ts';
import { DEAF, hears, WALKED } from './heard.ts';
import { smallJob } from './small-job.ts';

type Driven = ReturnType<typeof drive>;

const TOLD = ['1', 'enter', '2', 'enter'] as const;
const TAGGED = ['1', '7', 'enter'] as const;
const SWEPT = ['0', '.', '0', '2', 'enter', '1', '2', 'enter', '1', '4', 'enter'] as const;
const MEASURING = [...SHIFT, ...TOLD, ...TAGGED, ...SWEPT] as const;

const WRITTEN = bundledFile(DEMO_SURVEY);

/** The survey of the club while it is typed, after so many keys. */
function entering({ store, press }: Driven, count: number): void {
  store.dispatch({ type: 'survey', answers: {} });
  for (const label of CLUB.slice(0, count)) press(...(label.startsWith('"') ? label.slice(1) : [label]));
}

/** The survey of the demo while it is changed. */
function editing({ store, press }: Driven, ...labels: readonly string[]): void {
  const text = readFileSync(WRITTEN, 'utf8');
  store.dispatch({
    type: 'editing',
    file: '/jobs/harbour.yaml',
    draft: { original: text, text, asking: null, place: null },
  });
  store.dispatch({ type: 'checked', findings: ['The standby battery is too small.'] });
  press(...labels);
}

// The small job has one input that something hangs on; learning takes two.
function learning(store: Driven['store']): void {
  const app = store.get();
  const screen = { kind: 'learn', board: 'b1', inputs: ['1', '2'], phase: 0, picked: null } as const;
  (app.stack as App['stack'][number][]).push(screen);
}

/** A tour of which one is heard, two were heard at each other's turn, and the others wait. */
function touring(store: Driven['store'], press: Driven['press'], more: readonly string[]): void {
  press(...MEASURING);
  const stops = tourStops(WALKED);
  store.dispatch(
    hears([
      [1, '1', 'open'],
      [4, '1', 'closed'],
      [20, '3', 'open'],
      [22, '3', 'closed'],
      [40, '2', 'open'],
      [43, '2', 'closed'],
    ]),
  );
  Object.assign(store.get(), { tour: { stops, from: 0 } });
  press('t', ...more);
}

/** Every screen, and how to come to it. */
export const CASES: Readonly<Record<string, (driven: Driven) => void>> = {
  jobs: ({ store }) => store.dispatch({ type: 'jobs', jobs: store.get().jobs, surveys: [] }),
  briefing: () => {},
  'form-shift': ({ press }) => press('enter'),
  'step-text': ({ press }) => press(...SHIFT),
  'step-letters': ({ press }) => press(...SHIFT, '4', 'right', 'enter'),
  'step-choice': ({ press }) => press(...SHIFT, '1', 'enter', '3'),
  'step-caution': ({ press }) => press(...SHIFT, ...TOLD),
  'step-sweep': ({ press }) => press(...SHIFT, ...TOLD, ...TAGGED, '0', '.', '0', '2', 'enter', '1', '2'),
  'step-reading': ({ press }) => press(...MEASURING, '2', '1', '9', '0'),
  'step-reading-off': ({ press }) => press(...MEASURING, '4', '4', '0', '0'),
  'step-looking': ({ press }) => press(...MEASURING, 'up'),
  'step-observation': ({ press }) => press(...MEASURING, '2', '1', '9', '0', 'enter', '1'),
  far: ({ press }) => press(...MEASURING, 'f'),
  diagnosis: ({ press }) => press(...MEASURING, '4', '4', '0', '0', 'enter'),
  menu: ({ press }) => press(...MEASURING, 'left'),
  steps: ({ press }) => press(...MEASURING, 's', 'a'),
  plan: ({ press }) => press(...MEASURING, 'p'),
  'plan-finding': ({ press }) => press(...MEASURING, 'p', 'enter'),
  'plan-circuits': ({ press }) => press(...MEASURING, 'p', '2'),
  'plan-supply': ({ press }) => press(...MEASURING, 'p', '3'),
  'plan-found': ({ press }) => press(...MEASURING, 'p', '4'),
  'plan-will-be': ({ press }) => press(...MEASURING, 'p', '5'),
  'plan-parts': ({ press }) => press(...MEASURING, 'p', '6'),
  history: ({ press }) => press(...MEASURING, 'h'),
  'history-record': ({ press }) => press(...MEASURING, 'h', 'enter'),
  'history-search': ({ press }) => press(...MEASURING, 'h', '/'),
  help: ({ press }) => press(...MEASURING, '?'),
  settings: ({ press, pick }) => {
    press(...MEASURING, 'left');
    pick('settings');
  },
  note: ({ press }) => press(...MEASURING, 'n'),
  ...Object.fromEntries(
    (['photo', 'pause', 'leave', 'away', 'cannot', 'correct'] as const).map((form) => [
      `form-${form}`,
      ({ press, pick }: Driven) => {
        press(...MEASURING, 'left');
        pick(form);
      },
    ]),
  ),
  'form-correct-difference': ({ press, pick }) => {
    press(...MEASURING, 'left');
    pick('correct');
    press(...'zones.z1.loop.resistor', 'enter', '4', 'k', '7', 'enter', '1', 'enter');
  },
  'form-reopen': ({ press }) => press(...MEASURING, 'up', 'r'),
  'form-deviate': ({ press }) => press(...MEASURING, '2', '1', '9', '0', 'enter', 'v'),
  'sure-doubt': ({ press }) => press(...MEASURING, 'd'),
  'sure-quit': ({ press }) => press(...MEASURING, 'q'),
  doubt: ({ press }) => press(...MEASURING, 'd', 'd'),
  'form-close': ({ press, pick }) => {
    press(...MEASURING, '2', '1', '9', '0', 'enter', '1', 'enter', 'left');
    pick('close');
  },
  challenge: ({ store, press }) => {
    press('enter');
    const action = { do: 'start-shift', name: 'Nadia', instrument: 'My own meter', zero: '25' } as const;
    const challenge = challengeTo(action, null, null)!;
    const { job } = store.get();
    const acted = {
      format: 'loopward/acted@1',
      challenge: challenge.name,
      says: challenge.says,
      next: job!.next,
    };
    store.dispatch({ type: 'acted', action, acted, job: job! } as AppEvent);
  },
  'form-found': ({ press, pick }) => {
    press(...MEASURING, 'left');
    pick('found');
  },
  'form-survey-file': ({ store, pick }) => {
    store.dispatch({ type: 'jobs', jobs: store.get().jobs, surveys: [] });
    pick('survey-file');
  },
  'form-carry-on': ({ store, press }) => {
    press(...MEASURING);
    const lost = { do: 'note', text: 'The lid was bent when we came.' } as const;
    store.dispatch({
      type: 'not-saved',
      dir: '/jobs/small',
      action: lost,
      offers: ['/media/stick/small-2', '/home/nadia/small-2'],
    });
    press('+');
  },
  'not-saved': ({ store, press }) => {
    press(...MEASURING);
    store.dispatch({ type: 'not-saved', dir: '/jobs/small', action: null, offers: [] });
    store.dispatch({ type: 'trouble', says: 'NOT SAVED: /jobs/small takes no more records.' });
  },
  'step-heard': ({ press, store }) => {
    press(...MEASURING, '2', '1', '9', '0', 'enter');
    store.dispatch(hears([[2, '1', 'open']]));
  },
  'step-heard-elsewhere': ({ press, store }) => {
    press(...MEASURING, '2', '1', '9', '0', 'enter');
    store.dispatch(hears([[2, '3', 'open']], DEAF));
  },
  live: ({ press, store }) => {
    press(...MEASURING);
    store.dispatch(hears([[2, '1', 'open']], {}, { listening: false, heard: null }));
    press('l');
  },
  'live-hearing': ({ press, store }) => {
    press(...MEASURING, 'l');
    store.dispatch(hears([[2, '1', 'open']], { messages: 17, unread: 2 }));
  },
  'live-deaf': ({ press, store }) => {
    press(...MEASURING, 'l');
    store.dispatch(hears([[2, '1', 'open']], DEAF));
  },
  'form-live-source': ({ press }) => press(...MEASURING, 'l', '1'),
  learn: ({ store, press }) => {
    press(...MEASURING);
    store.dispatch(hears([]));
    store.dispatch({ type: 'live', news: { tapped: 4 } });
    learning(store);
  },
  'learn-pick': ({ store, press }) => {
    press(...MEASURING);
    store.dispatch(hears([]));
    learning(store);
    press('enter', 'enter', 'enter');
    const place = { topic: 'harbour/in-1/state', path: '', open: 'OPEN', closed: 'CLOSED' };
    const other = { topic: 'harbour/all', path: "$['in1']", open: 'true', closed: 'false' };
    store.dispatch({ type: 'live', news: { candidates: [place, other] } });
  },
  tour: ({ store, press }) => touring(store, press, []),
  'tour-all': ({ store, press }) => touring(store, press, ['a']),
  survey: (driven) => entering(driven, 0),
  'survey-choice': (driven) => entering(driven, 2),
  'survey-zone': (driven) => entering(driven, 26),
  'survey-end': (driven) => entering(driven, CLUB.length),
  edit: (driven) => editing(driven),
  'edit-zone': (driven) => editing(driven, 'down', 'down', 'enter'),
  'edit-field': (driven) => editing(driven, 'down', 'down', 'enter', 'down', 'down', 'enter'),
  'edit-typed': (driven) => editing(driven, 'enter', 'enter', ...'The old boat house'),
  'edit-add': (driven) => editing(driven, 'down', 'down', 'enter', 'end', 'up', 'enter'),
  'edit-remove': (driven) => editing(driven, 'down', 'down', 'enter', 'end', 'enter'),
  'edit-end': (driven) => editing(driven, 'end', 'enter'),
  closed: ({ press, pick }) => {
    press(...MEASURING, '2', '1', '9', '0', 'enter', '1', 'enter', 'left');
    pick('close');
    press('1', 'enter', '2', 'enter');
  },
};

export function caseAt(
  name: string,
  size: Size,
  settings: Partial<ScreenSettings> = {},
  linear = false,
): Driven {
  const driven = drive(smallJob(), size, settings, linear);
  CASES[name]!(driven);
  return driven;
}
