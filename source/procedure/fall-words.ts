import type { Fall } from './fall.ts';
import { placeName } from './place-name.ts';
import { STOP_VOLTS } from './voltage.ts';

/** How an answer fell, in words: the same while it is typed, once it is recorded, and in every document. */
export function sayFall(fall: Fall): string {
  switch (fall.is) {
    case 'expected':
    case 'expected-unjudged':
      return 'as expected';
    case 'suits':
      return 'usable';
    case 'usable':
      return 'not as expected, usable';
    case 'odd':
      return 'outside, noted and not judged';
    case 'noted':
      return 'recorded as it is';
    case 'unusable':
      return 'does not pass';
    case 'expected-unusable':
      return 'could be expected here, and still does not pass';
    case 'beyond-stop':
      return `beyond ${STOP_VOLTS} V: hands off`;
    case 'differs':
      return 'not what it showed before';
    case 'live':
      return 'read under voltage: worth nothing';
    case 'clear':
      return 'nothing met';
    case 'met':
      return fall.at === null ? 'something is met' : `met at ${placeName(fall.at)}`;
    case 'induced':
      return 'induced: it collapses under load';
    case 'short-count':
      return `${fall.points} points of ${fall.of} touched: too few`;
    case 'chosen':
    case 'chosen-against':
      return fall.label;
    case 'written':
      return 'recorded';
    case 'miscounted':
      return `${fall.counted} counted, and the survey has ${fall.survey}`;
    case 'seen':
    case 'seen-otherwise':
      return `seen: ${fall.shown}`;
  }
}
