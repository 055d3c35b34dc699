import { type App, FIRST_SCREEN, NO_JOBS } from '../../source/screens/app/state.ts';
import { DEFAULT_SETTINGS, type ScreenSettings } from '../../source/screens/settings.ts';
import type { Size } from './drive.ts';

/** Screens before anything was opened. It loads no job, so that what is bundled elsewhere can use it. */
export function appOf(size: Size, settings: Partial<ScreenSettings> = {}, linear = false): App {
  return {
    size,
    settings: { ...DEFAULT_SETTINGS, ...settings },
    linear,
    jobs: NO_JOBS,
    surveys: [],
    job: null,
    stack: [FIRST_SCREEN],
    causes: {},
    drafts: {},
    notice: null,
    exit: null,
  };
}
