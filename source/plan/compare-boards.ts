import type { Board } from '../site/board.ts';
import type { Survey } from '../site/survey.ts';
import type { Plan } from './plan.ts';
import { planChangeover } from './plan-changeover.ts';
import { leastSpared, sparedVolts } from './supply/board-supply.ts';

/** How one board by itself would do on a site. */
export type BoardFit = {
  readonly board: string;
  readonly name: string;
  readonly verdict: Plan['verdict'];
  readonly inputsUsed: number;
  readonly inputsFree: number;
  readonly loss: number;
  /** What is left of each limit; below zero it is exceeded. */
  readonly auxMarginAmps: number;
  readonly supplyMarginAmps: number;
  readonly batteryMarginAmpHours: number | null;
  /** Of the detector with the least to spare, on mains or at the end of the battery; null without any. */
  readonly voltsMargin: number | null;
  readonly splices: number;
  readonly blocks: readonly string[];
  readonly cautions: readonly string[];
};

/** The same site on each board by itself, side by side, in the order given. */
export function compareBoards(survey: Survey, boards: readonly Board[]): BoardFit[] {
  return boards.map((board) => {
    const plan = planChangeover(survey, [board]);
    const supply = plan.supply[0]!;
    const weakest = leastSpared(supply.devices);
    const codes = (severity: string) => [
      ...new Set(plan.findings.filter((finding) => finding.severity === severity).map(({ code }) => code)),
    ];
    return {
      board: board.id,
      name: board.name,
      verdict: plan.verdict,
      inputsUsed: plan.grouping.inputsUsed,
      inputsFree: plan.grouping.inputsFree,
      loss: plan.grouping.loss,
      auxMarginAmps: board.aux.amps - supply.auxAmps,
      supplyMarginAmps: supply.limitAmps - supply.alarmAmps,
      batteryMarginAmpHours:
        board.battery && supply.battery
          ? board.battery.capacityAmpHours - supply.battery.requiredAmpHours
          : null,
      voltsMargin: weakest ? sparedVolts(weakest) : null,
      splices: plan.parts.find(({ item }) => item === 'splice')?.count ?? 0,
      blocks: codes('block'),
      cautions: codes('caution'),
    };
  });
}
