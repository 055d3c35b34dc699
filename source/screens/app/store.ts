import { resolve } from 'node:path';
import type { Action } from '../../job/action.ts';
import type { Draft } from '../../job/draft.ts';
import { sayTrouble } from '../../job/way-on.ts';
import { codeOf, JournalError } from '../../journal/error.ts';
import type { Key } from '../keys/key.ts';
import { liveAnswers } from '../live/answers.ts';
import type { LivePort, TellLive } from '../live/port.ts';
import type { JobPort, JobShelf } from '../port.ts';
import { tellAnswer } from '../rehearse/tell.ts';
import type { ScreenSettings } from '../settings.ts';
import { reduce } from './reduce.ts';
import type { App, AppEvent, Effect, OpenJob } from './state.ts';

export type Store = {
  get(): App;
  subscribe(listener: () => void): () => void;
  dispatch(event: AppEvent): void;
  keys(keys: readonly Key[]): void;
  /** Lets go of the job that is open, if one is. */
  close(): void;
};

export type Outside = {
  readonly shelf: JobShelf;
  readonly saveSettings: (settings: ScreenSettings) => void;
  /** Who listens to the boards, where somebody can. */
  readonly live?: (tell: TellLive) => LivePort;
  readonly ring?: () => void;
};

/** How long a letter may stand on the screen before the draft on the disk has it too. */
const DRAFT_MILLISECONDS = 50;

/**
 * Holds the one state and does what its reducer orders. Everything is synchronous: when `dispatch` returns,
 * what was to be recorded is recorded.
 */
export function createStore(first: App, { shelf, saveSettings, live: livePort, ring }: Outside): Store {
  let app = first;
  let port: JobPort | null = null;
  const live = livePort?.((news) => {
    take({ type: 'live', news });
    tell();
  });
  const listeners = new Set<() => void>();
  let unsaved: { readonly port: JobPort; readonly draft: Draft | null } | null = null;

  function take(event: AppEvent): void {
    const [next, effects] = reduce(app, event);
    app = next;
    for (const effect of effects) for (const answer of perform(effect)) take(answer);
  }

  function perform(effect: Effect): readonly AppEvent[] {
    try {
      return answersTo(effect);
    } catch (error) {
      const says = troubleOf(error);
      if (says === null) throw error;
      return [{ type: 'trouble', says }, ...notSaved(effect, error)];
    }
  }

  // A folder that takes no more: the way on is one key, and what was to be recorded stays in sight.
  function notSaved(effect: Effect, error: unknown): readonly AppEvent[] {
    const kind = error instanceof JournalError ? error.kind : null;
    const dir = effect.do === 'open-job' ? effect.dir : port?.dir;
    if (dir === undefined || (kind !== 'not-saved' && kind !== 'broken')) return [];
    const action = effect.do === 'act' ? effect.action : null;
    return [{ type: 'not-saved', dir, action, offers: shelf.elsewhere(dir) }];
  }

  function carriedOn(dir: string, into: string): readonly AppEvent[] {
    if (port?.dir !== dir) return opened(shelf.carryOn(dir, into));
    const before = port;
    port = before.carryOn(resolve(into));
    before.close();
    return [{ type: 'carried-on', job: lookAt(port) }];
  }

  function answersTo(effect: Effect): readonly AppEvent[] {
    switch (effect.do) {
      case 'list-jobs':
        letGo();
        return [{ type: 'jobs', jobs: shelf.list(effect.wanted), surveys: shelf.surveys() }];
      case 'open-job':
        return opened(shelf.open(effect.dir));
      case 'open-demo':
        return opened(shelf.openDemo());
      case 'open-rehearsal':
        return opened(shelf.openRehearsal(effect.dir, effect.wrong));
      case 'offer-rehearsal': {
        const { dir, site } = effect;
        return [
          { type: 'rehearse', screen: { kind: 'rehearse', dir, site, faults: shelf.faults(), chosen: null } },
        ];
      }
      case 'carry-on':
        return carriedOn(effect.dir, effect.into);
      case 'hand-over':
        return [{ type: 'told', says: `The documents stand in ${shelf.handOver(effect.dir)}`, more: [] }];
      case 'meter':
        return port ? told([tellAnswer(effect.field, port.meter(effect.step))]) : [];
      case 'search':
        return port ? [{ type: 'told', says: 'You go and look:', more: port.search(effect.step) }] : [];
      case 'debrief':
        return port ? [{ type: 'told', says: 'In this rehearsal:', more: port.debrief() }] : [];
      case 'chain':
        return port ? told(port.chain()) : [];
      case 'bell':
        ring?.();
        return [];
      case 'live-look':
      case 'live-source':
      case 'live-map':
      case 'listen':
      case 'stop-listening':
      case 'learn-hold':
      case 'learn-candidates':
        return port && live ? liveAnswers(live, port.dir, effect) : [];
      case 'act':
        saveDraft();
        return port ? acted(port, effect.action) : [];
      case 'draft':
        keepDraft(effect.draft);
        return [];
      case 'history':
        return port ? [{ type: 'history', filter: effect.filter, rows: port.history(effect.filter) }] : [];
      case 'preview':
        return port ? [{ type: 'preview', lines: port.previewCorrection(effect.set) }] : [];
      case 'new-survey':
        return [{ type: 'survey', answers: shelf.readSurveyDraft() }];
      case 'edit-survey': {
        const draft = shelf.openSurveyFile(effect.file);
        return [
          typeof draft === 'string'
            ? { type: 'trouble', says: draft }
            : { type: 'editing', file: effect.file, draft },
          ...(typeof draft === 'string' ? [] : checked(draft.text, effect.file)),
        ];
      }
      case 'keep-edit':
        shelf.keepSurveyEdit(effect.file, effect.draft);
        return [];
      case 'save-edit': {
        const saved = shelf.saveSurveyEdit(effect.file, effect.original, effect.text);
        return finished(saved, effect.open);
      }
      case 'keep-survey':
        shelf.keepSurveyDraft(effect.answers);
        return [];
      case 'check-survey':
        return checked(effect.text, effect.file);
      case 'finish-survey':
        return finished({ file: shelf.saveSurvey(effect.text, effect.name), before: null }, effect.open);
      case 'save-settings':
        saveSettings(effect.settings);
        return [];
    }
  }

  function opened(found: JobPort | string): readonly AppEvent[] {
    if (typeof found === 'string') return [{ type: 'trouble', says: found }];
    letGo();
    port = found;
    return [{ type: 'opened', job: lookAt(found), briefing: found.briefing(), draft: found.readDraft() }];
  }

  function checked(text: string, file: string | null): readonly AppEvent[] {
    return [{ type: 'checked', findings: shelf.check(text, file) }];
  }

  function finished(saved: { file: string; before: string | null }, open: boolean): readonly AppEvent[] {
    return open ? opened(shelf.startFrom(saved.file)) : [{ type: 'survey-saved', ...saved }];
  }

  // A key is seen before the disk has answered: letters are saved a moment later, each field at its Enter.
  function keepDraft(draft: Draft | null): void {
    if (!port) return;
    if (unsaved === null) setTimeout(saveDraft, DRAFT_MILLISECONDS);
    unsaved = { port, draft };
  }

  function saveDraft(): void {
    if (unsaved === null) return;
    const { port: owner, draft } = unsaved;
    unsaved = null;
    try {
      owner.writeDraft(draft);
    } catch (error) {
      // A draft is a convenience: a full disk tells of itself at the next record, and stands in the way of none.
      if (troubleOf(error) === null) throw error;
    }
  }

  function letGo(): void {
    saveDraft();
    live?.stop();
    port?.close();
    port = null;
  }

  function tell(): void {
    for (const listener of listeners) listener();
  }

  return {
    get: () => app,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    dispatch: (event) => {
      take(event);
      tell();
    },
    keys: (keys) => {
      if (keys.length > 0) port?.here();
      for (const key of keys) take({ type: 'key', key });
      if (keys.some((key) => key.name === 'enter')) saveDraft();
      tell();
    },
    close: letGo,
  };
}

// What the disk or another program stands in the way of is told and mended; anything else is a defect.
function troubleOf(error: unknown): string | null {
  if (error instanceof JournalError) return sayTrouble(error);
  const code = codeOf(error);
  return /^E[A-Z]+$/.test(code) ? `The disk does not take it (${code}). Mend that and try again.` : null;
}

function told([says = '', ...more]: readonly string[]): readonly AppEvent[] {
  return [{ type: 'told', says, more }];
}

function acted(port: JobPort, action: Action): readonly AppEvent[] {
  const answer = port.act(action);
  return [{ type: 'acted', action, acted: answer, job: lookAt(port) }];
}

function lookAt(port: JobPort): OpenJob {
  return { id: port.id, dir: port.dir, ...port.look() };
}
