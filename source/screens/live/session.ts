import { Learner } from '../../live/learn.ts';
import type { Listening } from '../../live/listen.ts';
import { NO_SETUP, readSetup, writeSetup } from '../../live/setup.ts';
import type { LivePort, TellLive } from './port.ts';

/**
 * Listens to the boards of the open job. What speaks to the network is loaded when it is told to listen, and no sooner.
 */
export function livePort(env: Readonly<Record<string, string | undefined>>, tell: TellLive): LivePort {
  let listening: Listening | null = null;
  let learner: Learner | null = null;
  let tapped = 0;
  // What was asked for last counts: an answer to what came before it is dropped.
  let turn = 0;

  const known = (dir: string) => {
    const setup = readSetup(dir);
    return typeof setup === 'string' ? NO_SETUP : setup;
  };
  const look = () => {
    const heard = listening?.look();
    if (heard) tell({ heard: { ...heard, nowMilliseconds: Date.now() }, ...(learner ? { tapped } : {}) });
  };
  const stop = () => {
    turn++;
    learner = null;
    listening?.close();
    listening = null;
  };

  return {
    setup: readSetup,
    setSource: (dir, source) => writeSetup(dir, { ...known(dir), source }),
    setMapping: (dir, board, mapping) => {
      const setup = known(dir);
      const boards = { ...setup.boards, [board]: mapping };
      writeSetup(dir, { ...setup, boards });
      void listening?.mapTo(boards).then((says) => tell({ says, setup: { ...setup, boards } }));
    },
    listen: (dir, boards) => {
      stop();
      const mine = turn;
      const setup = readSetup(dir);
      if (typeof setup === 'string') return tell({ listening: false, says: setup });
      if (setup.source === null) return tell({ listening: false, says: NO_SOURCE });
      const { source } = setup;
      tell({ listening: true, says: null, setup, heard: null });
      void import('../../live/listen.ts')
        .then(({ listen }) => listen({ source, mappings: setup.boards, boards, env, onHeard: look }))
        .then((made) => {
          if (mine !== turn) return typeof made === 'string' ? undefined : made.close();
          if (typeof made === 'string') return tell({ listening: false, says: made });
          listening = made;
          return look();
        });
    },
    hold: (state) => {
      if (state === null) {
        learner = null;
        listening?.tap(null);
        return;
      }
      if (learner === null) {
        const made = new Learner();
        learner = made;
        tapped = 0;
        listening?.tap((message) => {
          tapped++;
          made.take(message);
        });
      }
      learner.hold(state);
      tell({ candidates: null, tapped });
    },
    candidates: (input) => {
      tell({ candidates: learner?.candidates(input).slice(0, 9) ?? [] });
      learner = null;
    },
    stop: () => {
      stop();
      tell({ listening: false, heard: null, says: null });
    },
  };
}

const NO_SOURCE = 'This job does not know where its board is heard. Press s and say it.';
