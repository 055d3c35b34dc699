import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import type { FindingCode } from '../finding-codes.ts';
import type { GroupingResult } from '../grouping/group.ts';
import type { Placement } from '../grouping/place.ts';
import type { Unit } from '../grouping/units.ts';
import type { LifeSafety } from '../life-safety.ts';
import type { Ends } from '../loops/ends.ts';
import type { Field } from '../loops/field.ts';
import type { BoardSupply, Circuit, Connection, Finding, Severity, TerminalUse, ZonePlan } from '../plan.ts';
import type { BoardFeed } from '../supply/feeds.ts';

/** What the findings are read from: the survey, and what the plan has made of it so far. */
export type Facts = {
  readonly survey: Survey;
  readonly boards: readonly Board[];
  readonly field: Field;
  readonly lifeSafety: LifeSafety;
  readonly units: readonly Unit[];
  readonly grouped: GroupingResult;
  readonly placement: Placement;
  readonly feeds: readonly BoardFeed[];
  readonly supply: readonly BoardSupply[];
  readonly circuits: readonly Circuit[];
  readonly zones: readonly ZonePlan[];
  readonly terminals: readonly TerminalUse[];
  readonly connections: readonly Connection[];
  readonly endsOf: (unit: Unit) => Ends;
};

/** One finding. `says` is what is so, `act` what to do: a sentence each. */
export function finding(
  code: FindingCode,
  severity: Severity,
  about: readonly string[],
  says: string,
  act: string,
  figures: Finding['figures'] = {},
): Finding {
  return { code, severity, about, message: `${says} ${act}`, figures };
}
