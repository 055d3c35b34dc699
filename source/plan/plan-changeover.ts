import type { Board } from '../site/board.ts';
import type { Survey } from '../site/survey.ts';
import { wiringAsFound } from '../site/wiring-as-found.ts';
import { computeCircuits } from './circuits/circuits.ts';
import { landedAtOnce } from './circuits/landed-at-once.ts';
import { settleCircuits } from './circuits/settle.ts';
import { endsOfUnit } from './connections/circuit-ends.ts';
import { connectAll } from './connections/connect.ts';
import { computeConnections, computeTerminals } from './connections/screws.ts';
import { computeFindings } from './findings/findings.ts';
import { computeGrouping, type Group } from './grouping/group.ts';
import { placeGroups } from './grouping/place.ts';
import { roomOfBoards, tiesOfGroups } from './grouping/ties.ts';
import { computeUnits, type Unit } from './grouping/units.ts';
import { computeLifeSafety } from './life-safety.ts';
import { readField } from './loops/field.ts';
import { computeParts } from './parts.ts';
import type { Grouping, Plan } from './plan.ts';
import { computePoints } from './points/measuring-points.ts';
import { withSuspects } from './points/suspects.ts';
import { computeBoardSupply } from './supply/board-supply.ts';
import { computeFeeds } from './supply/feeds.ts';
import { planWork } from './work/site-work.ts';
import { computeZonePlans } from './zone-plans.ts';

/**
 * Whether and exactly how the boards take the site: a pure function, so that the same survey and boards give
 * the same plan to the byte. Never throws on a survey that was read without problems: what cannot be planned
 * is a finding.
 */
export function planChangeover(survey: Survey, boards: readonly Board[]): Plan {
  const wiring = wiringAsFound(survey);
  const field = readField(wiring);
  const lifeSafety = computeLifeSafety(survey, field);
  const units = computeUnits(survey, lifeSafety, field, boards);
  const ends = new Map(units.map((unit) => [unit, endsOfUnit(field, survey, unit)]));
  const endsOf = (unit: Unit) => ends.get(unit)!;
  const inputs = boards.reduce((sum, board) => sum + board.inputs.length, 0);
  const grouped = computeGrouping(units, survey.mayShare, inputs);
  const placement = placeGroups(
    grouped.groups,
    boards,
    tiesOfGroups(survey, grouped.groups),
    roomOfBoards(survey, boards, grouped.groups),
  );
  const feeds = computeFeeds(survey, boards, placement.placed, lifeSafety);
  const wired = connectAll(survey, field, placement.placed, feeds, lifeSafety, endsOf);
  const { destinations } = wired;

  const gone = landedAtOnce(survey, boards, wiring, wired.circuits, destinations, 'out');
  const settled = settleCircuits(survey, field, gone, wired.circuits);
  const zones = computeZonePlans(survey, field, destinations, settled, wired.circuits, lifeSafety);
  const given = { survey, boards, field, zones, ends: wired.circuits, destinations, lifeSafety };
  const { work, moments } = planWork({ ...given, circuits: settled });
  const left = landedAtOnce(survey, boards, wiring, wired.circuits, destinations, 'left');
  const circuits = computeCircuits(survey, field, settled, wired.circuits, moments.landed, left);
  const terminals = computeTerminals(survey, boards, wiring.conductors, destinations);
  const connections = computeConnections(survey, wiring.conductors, destinations, terminals);
  const points = computePoints({ survey, field, zones, circuits, ends: wired.circuits, work, moments });
  const supply = feeds.map((feed) => computeBoardSupply(survey, feed));
  const grouping: Grouping = {
    loss: grouped.loss,
    optimal: grouped.optimal,
    bound: grouped.bound,
    inputsUsed: placement.placed.length,
    inputsFree: inputs - placement.placed.length,
    groups: placement.placed.map(({ group, board, input }) => ({
      zone: group.units[0]!.zone,
      detectors: detectorsOf(group),
      board: board.id,
      input: input.id,
    })),
  };
  const findings = computeFindings({
    survey,
    boards,
    field,
    lifeSafety,
    units,
    grouped,
    placement,
    feeds,
    supply,
    circuits,
    zones,
    terminals,
    connections,
    endsOf,
  });
  return {
    survey,
    boards,
    wiring,
    verdict: verdictOf(findings),
    findings,
    circuits,
    zones,
    heldOut: lifeSafety.heldOut,
    supply,
    connections,
    terminals,
    grouping,
    work,
    points: withSuspects(points, survey),
    parts: computeParts(survey, wiring, connections, terminals, circuits, zones, feeds),
    assumed: survey.assumed,
  };
}

function detectorsOf(group: Group): string[] {
  return group.units.flatMap(({ detectors }) => detectors);
}

function verdictOf(findings: Plan['findings']): Plan['verdict'] {
  if (findings.some(({ severity }) => severity === 'block')) return 'blocked';
  return findings.some(({ severity }) => severity === 'caution' || severity === 'gate') ? 'caution' : 'ready';
}
