import { addIntervals, exactly, type Interval } from '../../electrical/interval.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { pairOhms } from '../../site/worth.ts';
import { cableTree } from './cable-ohms.ts';
import { type BoardFeed, holdOffAmps } from './feeds.ts';
import { type SupplyCase, supplyLoads } from './loads.ts';

/** The old run that brings a board its adapter's current; null where the adapter's own lead does. */
export function adapterLead(survey: Survey, { board }: BoardFeed): Cable | null {
  return cableTree(survey).byId.get(board.adapter.lead ?? '') ?? null;
}

/**
 * What the old run loses on the way to the board: all that the board takes flows in it, sounders and charging
 * current too. At the end of the battery nothing comes through it.
 */
export function leadDropVolts(survey: Survey, feed: BoardFeed, supplyCase: SupplyCase): Interval {
  const lead = adapterLead(survey, feed);
  if (lead === null || supplyCase === 'batteryEnd') return exactly(0);
  return times(pairOhms(lead, survey), leadAmps(survey, feed, supplyCase));
}

/** The same with the battery full, in standby: what keeps it from its float voltage. */
export function floatDropVolts(survey: Survey, feed: BoardFeed): Interval {
  const lead = adapterLead(survey, feed);
  return lead === null ? exactly(0) : times(pairOhms(lead, survey), leadAmps(survey, feed, 'highest'));
}

function leadAmps(survey: Survey, feed: BoardFeed, supplyCase: SupplyCase): Interval {
  const { own, battery } = feed.board;
  const rests = supplyCase === 'highest' || supplyCase === 'now';
  const charge = battery?.chargeAmps ?? 0;
  // A full battery takes nothing: no shortfall is sure because of what charges it.
  const charging = {
    mains: { min: 0, nominal: charge, max: charge },
    now: { min: 0, nominal: 0, max: charge },
  };
  return addIntervals(
    exactly(own.standbyAmps),
    ...supplyLoads(survey, feed).map(({ amps }) => amps[supplyCase]),
    exactly(rests ? holdOffAmps(feed) : 0),
    supplyCase === 'mains' || supplyCase === 'now' ? charging[supplyCase] : exactly(0),
  );
}

function times(ohms: Interval, amps: Interval): Interval {
  return { min: ohms.min * amps.min, nominal: ohms.nominal * amps.nominal, max: ohms.max * amps.max };
}
