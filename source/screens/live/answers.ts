import type { AppEvent, Effect } from '../app/state.ts';
import type { LivePort } from './port.ts';

type LiveEffect = Extract<
  Effect,
  {
    do:
      | 'live-look'
      | 'live-source'
      | 'live-map'
      | 'listen'
      | 'stop-listening'
      | 'learn-hold'
      | 'learn-candidates';
  }
>;

/** Does what the screens order of the one who listens. What it hears comes later, by itself. */
export function liveAnswers(live: LivePort, dir: string, effect: LiveEffect): readonly AppEvent[] {
  const look = (): readonly AppEvent[] => {
    const setup = live.setup(dir);
    if (typeof setup === 'string') return [{ type: 'trouble', says: setup }];
    return [{ type: 'live', news: { setup } }];
  };
  switch (effect.do) {
    case 'live-look':
      return look();
    case 'live-source': {
      if (typeof effect.source === 'string') return [{ type: 'trouble', says: effect.source }];
      live.stop();
      live.setSource(dir, effect.source);
      return [...look(), { type: 'form-done' }];
    }
    case 'live-map':
      live.setMapping(dir, effect.board, effect.mapping);
      return look();
    case 'listen':
      live.listen(dir, effect.boards);
      return [];
    case 'stop-listening':
      live.stop();
      return [];
    case 'learn-hold':
      live.hold(effect.state);
      return [];
    case 'learn-candidates':
      live.candidates(effect.input);
      return [];
  }
}
