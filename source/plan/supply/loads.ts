import { exactly, type Interval } from '../../electrical/interval.ts';
import type { Sounder, Survey } from '../../site/survey.ts';
import type { CoreUse } from '../../wiring/wiring.ts';
import { cableTree } from './cable-ohms.ts';
import { type BoardFeed, isAssumedCurrent, type PoweredDetector, sounderAmps } from './feeds.ts';

/** The four cases in which what arrives is computed. */
export type SupplyCase = 'mains' | 'batteryEnd' | 'highest' | 'now';

/** What draws current over a cable, by which of its cores. */
export type SupplyLoad = {
  /** Of the detector or sounder. */
  readonly id: string;
  readonly cable: string;
  readonly minimumVolts: number;
  readonly uses: readonly [positive: CoreUse, negative: CoreUse];
  readonly amps: Readonly<Record<SupplyCase, Interval>>;
};

/** Everything that draws from a board over cables: its detectors on aux, its sounders on their output. */
export const supplyLoads = (survey: Survey, feed: BoardFeed): SupplyLoad[] => [
  ...feed.detectors.map((detector) => detectorLoad(survey, detector)),
  ...feed.sounders.flatMap((sounder) => sounderLoads(survey, sounder)),
];

/** Lowest voltages come with the greater current of every device, highest and today's with standby. */
function detectorLoad(survey: Survey, detector: PoweredDetector): SupplyLoad {
  const { standbyAmps, alarmAmps, minimumVolts } = detector.supply;
  // What is only assumed may be as little as nothing: a shortfall must not be sure because of it.
  const drawn = (amps: number): Interval => ({
    min: isAssumedCurrent(survey, detector) ? 0 : amps,
    nominal: amps,
    max: amps,
  });
  const most = drawn(Math.max(standbyAmps, alarmAmps));
  const rest = drawn(standbyAmps);
  return {
    id: detector.id,
    cable: detector.cable,
    minimumVolts,
    uses: ['aux-positive', 'aux-negative'],
    amps: { mains: most, batteryEnd: most, highest: rest, now: rest },
  };
}

/** Sounders ring all at once. A strobe with a core of its own comes back over the sounder's negative. */
function sounderLoads(survey: Survey, sounder: Sounder): SupplyLoad[] {
  const { id, minimumVolts } = sounder;
  const cable = cableTree(survey).byId.get(sounder.cable);
  const has = (use: CoreUse) => cable?.cores.some((core) => core.use === use) === true;
  const negative = !has('sounder-negative') && has('aux-negative') ? 'aux-negative' : 'sounder-negative';
  const positive = !has('sounder-positive') && has('hold-off') ? 'hold-off' : 'sounder-positive';
  const ringing = (of: string, use: CoreUse, amps: number): SupplyLoad => ({
    id: of,
    cable: sounder.cable,
    minimumVolts,
    uses: [use, negative],
    amps: { mains: exactly(amps), batteryEnd: exactly(amps), highest: exactly(0), now: exactly(0) },
  });
  const strobeAmps = sounder.strobeAmps ?? 0;
  if (strobeAmps === 0 || !has('strobe')) return [ringing(id, positive, sounderAmps(sounder))];
  return [
    ringing(id, positive, sounderAmps(sounder) - strobeAmps),
    ringing(strobeOf(id), 'strobe', strobeAmps),
  ];
}

/** The load of a sounder's strobe where a core of its own feeds it. */
export const strobeOf = (sounder: string) => `${sounder}/strobe`;
