import type { ScreenSettings } from '../../source/screens/settings.ts';
import { drive, SHIFT, type Size } from './drive.ts';
import { smallJob } from './small-job.ts';

type Driven = ReturnType<typeof drive>;

const TOLD = ['1', 'enter', '2', 'enter'] as const;
const TAGGED = ['1', '7', 'enter'] as const;
const SWEPT = ['0', '.', '0', '2', 'enter', '1', '2', 'enter', '1', '4', 'enter'] as const;
const MEASURING = [...SHIFT, ...TOLD, ...TAGGED, ...SWEPT] as const;

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
