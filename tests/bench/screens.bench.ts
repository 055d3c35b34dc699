import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Box, render, Text } from 'ink';
import { createElement, useSyncExternalStore } from 'react';
import { createJob } from '../../source/job/create.ts';
import { Job } from '../../source/job/job.ts';
import { realSystem } from '../../source/journal/system.ts';
import { listen } from '../../source/live/listen.ts';
import { createStore, type Store } from '../../source/screens/app/store.ts';
import { composeTop, Screens } from '../../source/screens/app/view.tsx';
import { portOf } from '../../source/screens/job-port.ts';
import { keysOf } from '../../source/screens/keys/key.ts';
import type { JobPort, JobShelf } from '../../source/screens/port.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { FrameStream } from '../../source/screens/terminal/frame-stream.ts';
import { appOf } from '../screens/app-of.ts';
import type { Bench } from './bench.ts';

const SIZE = { columns: 80, rows: 24 };
const folder = mkdtempSync(join(tmpdir(), 'loopward-bench-screens-'));
process.once('exit', () => rmSync(folder, { recursive: true, force: true }));

const deaf = {
  isTTY: true,
  setRawMode: () => {},
  setEncoding: () => {},
  ref: () => {},
  unref: () => {},
  read: () => null,
  on: () => {},
  off: () => {},
  addListener: () => {},
  removeListener: () => {},
} as unknown as NodeJS.ReadStream;

/** Shows it, and answers how to do something and wait for the frame it makes. */
function shown(
  node: Parameters<typeof render>[0],
  cursor: ConstructorParameters<typeof FrameStream>[2],
): (act: () => void) => Promise<void> {
  let painted = () => {};
  const stream = new FrameStream(SIZE, () => painted(), cursor);
  render(node, {
    stdout: stream as unknown as NodeJS.WriteStream,
    stdin: deaf,
    exitOnCtrlC: false,
    patchConsole: false,
    debug: true,
  });
  return (act) =>
    new Promise((done) => {
      painted = done;
      act();
    });
}

// Read from the checkout: what is measured runs from a bundle elsewhere.
function demoShelf(home: string): JobShelf {
  const system = realSystem();
  const text = (file: string) => readFileSync(join('fixtures', file), 'utf8');
  const openDemo = (): JobPort | string => {
    const made = createJob({
      surveyText: text('sailing-club/survey.yaml'),
      surveyFile: 'survey.yaml',
      boards: [{ id: 'b1', file: 'eight-paired', text: text('boards/eight-paired.yaml') }],
      dir: join(home, 'demo'),
      system,
      sitting: 'screens',
    });
    return made instanceof Job ? portOf(made, system) : 'The demo cannot be planned.';
  };
  return { ...shelfOf(home, system), openDemo };
}

function storeOn(shelf: JobShelf): Store {
  return createStore(appOf(SIZE), { shelf, saveSettings: () => {} });
}

function press(store: Store, keys: readonly string[]): void {
  const flags = {
    enter: { return: true },
    left: { leftArrow: true },
    down: { downArrow: true },
    up: { upArrow: true },
  } as const;
  for (const key of keys)
    store.keys(key in flags ? keysOf('', flags[key as keyof typeof flags]) : keysOf(key, {}));
}

/** The demo's own step with a text and its offers, then a letter typed and erased again, as often as asked. */
const demo = storeOn(demoShelf(folder));
demo.dispatch({ type: 'picked', value: 'demo' });
press(demo, ['1', ...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter']);
const step = shown(createElement(Screens, { store: demo }), () => composeTop(demo.get()).cursor);
let flip = false;

/** The same height in Ink alone: rows of text, one of them a counter. */
let count = 0;
const listeners = new Set<() => void>();
function Counter() {
  const now = useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => count,
  );
  const rows = Array.from({ length: SIZE.rows - 1 }, (_, row) =>
    createElement(Text, { key: row }, row === 12 ? `count ${now}` : `row ${row}`),
  );
  return createElement(Box, { flexDirection: 'column' }, ...rows);
}
const counter = shown(createElement(Counter), () => null);

/** A record of 10,000 rows and a demo's own, scrolled by the same key. */
function historyOf(records: number): (key: string) => Promise<void> {
  const shelf = demoShelf(mkdtempSync(join(folder, 'h-')));
  const rows = Array.from({ length: records }, (_, n) => ({
    n: n + 1,
    at: '2026-05-04 10:12 +02:00',
    kind: 'act',
    person: 'Nadia',
    step: 'measure.z1',
    says: `Nadia recorded reading ${n} of the boat store`,
    detail: [],
  }));
  const withRows = (port: JobPort | string): JobPort | string =>
    typeof port === 'string' ? port : { ...port, history: () => rows };
  const store = storeOn({ ...shelf, openDemo: () => withRows(shelf.openDemo()) });
  store.dispatch({ type: 'picked', value: 'demo' });
  press(store, ['1', ...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter', 'h']);
  const act = shown(createElement(Screens, { store }), () => composeTop(store.get()).cursor);
  return (key) => act(() => press(store, [key]));
}

/** A survey of so many detectors, two in each zone, opened to be changed and scrolled zone by zone. */
function surveyOf(detectors: number): (key: string) => Promise<void> {
  const zones = Array.from({ length: detectors / 2 }, (_, n) => n + 1);
  const one = (n: number) =>
    `  - {id: d${n}, name: Door ${n}, kind: door-contact, contact: normally-closed, place: entry, cable: c${n}}`;
  const cable = (n: number) =>
    `  - {id: c${n}, length: 9 m, conductor: 22 AWG, cores: [{colour: white, use: loop}, {colour: brown, use: loop}]}`;
  const zone = (n: number) =>
    `  - {id: z${n}, name: Room ${n}, terminals: [a${n}, b${n}], loop: {style: series, resistor: 2k2, resistorAt: panel}, joined: panel, detectors: [d${2 * n - 1}, d${2 * n}]}`;
  const each = zones.flatMap((n) => [2 * n - 1, 2 * n]);
  const text = [
    'format: loopward/survey@1',
    'site: {name: Long pier}',
    'zones:',
    ...zones.map(zone),
    'detectors:',
    ...each.map(one),
    'cables:',
    ...each.map(cable),
    'boards: [{id: b1, file: eight-paired}]',
  ].join('\n');
  const openSurveyFile = () => ({ original: text, text, asking: null, place: null });
  const store = storeOn({ ...demoShelf(mkdtempSync(join(folder, 's-'))), openSurveyFile, check: () => [] });
  store.dispatch({ type: 'picked', value: 'edit pier.yaml' });
  const act = shown(createElement(Screens, { store }), () => composeTop(store.get()).cursor);
  return (key) => act(() => press(store, [key]));
}

const smallSite = surveyOf(20);
const largeSite = surveyOf(200);
let siteTurn = false;

const short = historyOf(200);
const long = historyOf(10_000);
let up = false;
let shortUp = false;

/** The same step of the demo while a board is listened to, and tells 200 messages a second as long as the gate is open. */
const KEYS = 40;
const MESSAGES_PER_SECOND = 200;
let isTelling = false;

async function* messages(): AsyncIterable<string> {
  let told = 0;
  let since = 0;
  for (;;) {
    if (!isTelling) since = 0;
    else if (since === 0) {
      since = performance.now();
      told = 0;
    }
    const due = since === 0 ? 0 : ((performance.now() - since) / 1000) * MESSAGES_PER_SECOND;
    for (; told < due; told++) yield `in-${(told % 8) + 1} ${told % 16 < 8 ? 'OPEN' : 'CLOSED'}`;
    await new Promise((later) => setTimeout(later, 2).unref());
  }
}

function heardStep(): (key: string) => Promise<void> {
  const store = storeOn(demoShelf(mkdtempSync(join(folder, 'l-'))));
  store.dispatch({ type: 'picked', value: 'demo' });
  press(store, ['1', ...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter']);
  store.dispatch({ type: 'live', news: { listening: true } });
  const inputs = ['1', '2', '3', '4', '5', '6', '7', '8'];
  const mapping = {
    topic: 'in-{input}',
    state: '',
    open: ['OPEN'],
    closed: ['CLOSED'],
    names: {},
    presence: null,
  };
  let heard = (): void => {};
  void listen({
    source: { kind: 'lines', lines: messages() },
    mappings: { b1: mapping },
    boards: [{ id: 'b1', inputs }],
    env: {},
    onHeard: () => heard(),
  }).then((made) => {
    if (typeof made === 'string') throw new Error(made);
    heard = () => {
      const news = { heard: { ...made.look(), nowMilliseconds: Date.now() } };
      store.dispatch({ type: 'live', news });
    };
  });
  const act = shown(createElement(Screens, { store }), () => composeTop(store.get()).cursor);
  return (key) => act(() => press(store, [key]));
}

const hearing = heardStep();
async function keysWhile(isTold: boolean): Promise<void> {
  isTelling = isTold;
  for (let key = 0; key < KEYS; key++) {
    await hearing(key % 2 === 0 ? '2' : 'left');
    // Keys come from outside: what waits beside them has its turn.
    await new Promise((later) => setImmediate(later));
  }
  isTelling = false;
}

export const benches: readonly Bench[] = [
  {
    name: `${KEYS} keys to their frames on the step screen while ${MESSAGES_PER_SECOND} messages a second are heard, beside silence`,
    target: { ratio: 1.3 },
    baseline: { name: 'silence', run: () => keysWhile(false) },
    subject: { name: 'messages', run: () => keysWhile(true) },
  },
  {
    name: 'key to frame on the step screen of the demo, beside a bare Ink counter of the same height',
    target: { ratio: 2 },
    baseline: {
      name: 'Ink counter',
      run: () =>
        counter(() => {
          count++;
          for (const listener of listeners) listener();
        }),
    },
    subject: {
      name: 'step',
      run: () => {
        flip = !flip;
        return step(() => press(demo, [flip ? '2' : 'left']));
      },
    },
  },
  {
    name: 'scrolling a record of 10,000 beside one of 200',
    target: { ratio: 2 },
    baseline: {
      name: '200 records',
      run: () => {
        shortUp = !shortUp;
        return short(shortUp ? 'up' : 'down');
      },
    },
    subject: {
      name: '10,000 records',
      run: () => {
        up = !up;
        return long(up ? 'up' : 'down');
      },
    },
  },
  {
    name: 'scrolling a survey of 200 detectors beside one of 20',
    target: { ratio: 2 },
    baseline: {
      name: '20 detectors',
      run: () => {
        siteTurn = !siteTurn;
        return smallSite(siteTurn ? 'down' : 'up');
      },
    },
    subject: {
      name: '200 detectors',
      run: () => {
        siteTurn = !siteTurn;
        return largeSite(siteTurn ? 'down' : 'up');
      },
    },
  },
];
