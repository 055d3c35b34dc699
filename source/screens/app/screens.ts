import { BRIEFING } from '../briefing/screen.ts';
import { CHALLENGE } from '../challenge/screen.ts';
import { CLOSED } from '../closed/screen.ts';
import { DIAGNOSIS } from '../diagnosis/screen.ts';
import { EDIT } from '../edit/screen.ts';
import { FAR } from '../far/screen.ts';
import { FORM } from '../form/screen.ts';
import { helpScreen } from '../help/screen.ts';
import { HISTORY } from '../history/screen.ts';
import { JOBS } from '../jobs/screen.ts';
import type { KeyRow } from '../keys/table.ts';
import { LEARN } from '../live/learn-screen.ts';
import { LIVE } from '../live/screen.ts';
import { TOUR } from '../live/tour-screen.ts';
import { MENU } from '../menu/screen.ts';
import { PLAN } from '../plan/screen.ts';
import { REHEARSE } from '../rehearse/screen.ts';
import { SETTINGS } from '../settings-screen/screen.ts';
import { STEP } from '../step/screen.ts';
import { STEPS } from '../steps/screen.ts';
import { SURE } from '../sure/screen.ts';
import { SURVEY } from '../survey/screen.ts';
import type { ScreenDef } from './screen-def.ts';
import type { Screen } from './state.ts';

type Screens = { readonly [K in Screen['kind']]: ScreenDef<Extract<Screen, { kind: K }>> };

/** Every screen there is. */
const SCREENS: Screens = {
  jobs: JOBS,
  briefing: BRIEFING,
  step: STEP,
  far: FAR,
  steps: STEPS,
  menu: MENU,
  form: FORM,
  diagnosis: DIAGNOSIS,
  challenge: CHALLENGE,
  sure: SURE,
  rehearse: REHEARSE,
  plan: PLAN,
  history: HISTORY,
  live: LIVE,
  learn: LEARN,
  tour: TOUR,
  help: helpScreen((screen) => defOf(screen)),
  settings: SETTINGS,
  closed: CLOSED,
  survey: SURVEY,
  edit: EDIT,
};

/** The key table of a screen: what help and README list. */
export function keysOfScreen(kind: Screen['kind']): readonly KeyRow<string, never>[] {
  return SCREENS[kind].keys;
}

/** The definition of a screen: they share their kind, which the type of a table cannot say. */
export function defOf(screen: Screen): ScreenDef<Screen> {
  return SCREENS[screen.kind] as unknown as ScreenDef<Screen>;
}
