import type { Rail, Source } from '../../../source/rehearsal/building/building.ts';
import type { Drawing } from './drawing.ts';

/** Tracks of a board. */
const TRACK_OHMS = 0.02;

export type Feed = 'plug-in-transformer' | 'dc-adapter' | 'hard-wired-transformer';

/**
 * The old panel behind its screws: one supply of 13.7 V or so, its negative on every common; each zone pulled up to it
 * over a few kΩ. Figures from memory, but the float voltage: VRLA manuals, 13.5 to 13.8 V.
 */
export function drawPanelSide(
  drawing: Drawing,
  feed: Feed,
  isEarthed: boolean,
): { sources: Source[]; rails: Rail[] } {
  const { chance } = drawing;
  const on = (role: string) =>
    drawing.screws.filter((one) => one.role === role).map(({ number }) => `old:${number}`);
  const negatives = [...on('aux-negative'), ...on('common'), ...on('sounder').slice(1), 'panel:battery-'];
  for (const screw of negatives) drawing.link(screw, 'panel:-', TRACK_OHMS);
  for (const screw of on('aux-positive')) drawing.link(screw, 'panel:+', TRACK_OHMS);
  for (const screw of on('zone')) drawing.link(screw, 'panel:+', chance.between(2.2e3, 6.8e3));
  if (isEarthed) drawing.link('panel:-', 'earth', 0.1);
  const volts = chance.between(13.5, 13.8);
  const battery = chance.between(12.6, 12.9);
  const [ac1, ac2] = on('ac');
  const mode = feed === 'dc-adapter' ? 'dc' : 'ac';
  const common = { connected: true, induced: false, feedsBoard: null } as const;
  const sources: Source[] = [
    {
      ...common,
      name: 'feed',
      mode,
      volts: mode === 'ac' ? 18 : 13.8,
      innerOhms: 0.5,
      plus: 'feed+',
      minus: 'feed-',
      joins: [ac1!, ac2!],
    },
    {
      ...common,
      name: 'battery:1',
      mode: 'dc',
      volts: battery,
      innerOhms: 0.03,
      plus: 'battery:1+',
      minus: 'battery:1-',
      joins: ['panel:battery+', 'panel:battery-'],
    },
  ];
  const fromFeed = { source: 'feed', volts, innerOhms: 0.1 };
  const rails: Rail[] = [
    {
      id: 'panel:aux',
      plus: 'panel:+',
      minus: 'panel:-',
      innerOhms: 0.1,
      fedBy: [fromFeed, { source: 'battery:1', volts: battery - 0.3, innerOhms: 0.1 }],
      idleOhms: 180,
    },
    {
      id: 'panel:charge',
      plus: 'panel:battery+',
      minus: 'panel:-',
      innerOhms: 50,
      fedBy: [fromFeed],
      idleOhms: 20e3,
    },
  ];
  return { sources, rails };
}
