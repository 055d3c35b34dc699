import type { Plan } from '../../plan/plan.ts';
import type { FittedResistor, WiredConductor } from '../../wiring/wiring.ts';
import {
  type DrawnPosition,
  type DrawnResistor,
  type DrawnStrip,
  drawConductor,
  filledStrip,
  nameOfDetector,
  resistorValue,
} from './strip.ts';

/** The strips as found: the old panel's screws, its splices, what hangs loose, joins and resistors out in the building. */
export function stripsAsFound(plan: Plan): DrawnStrip[] {
  const { wiring, survey } = plan;
  const here = wiring.conductors.filter((conductor) => conductor.atPanel);
  const screws = survey.panel.terminals.map(
    ({ number, role }): DrawnPosition => ({
      id: number,
      shape: 'screw',
      role: roleWords(plan, number, role),
      holds: [
        ...here
          .filter((c) => c.screw === number)
          .map((c) => drawConductor(plan, c, { resistor: between(c, number, wiring.resistors) })),
        ...bridging(number, wiring.resistors),
      ],
    }),
  );
  const hanging = here.filter((c) => c.screw === null);
  const spliced = hanging.filter((c) => c.near.startsWith('join:'));
  const loose = hanging.filter((c) => !c.near.startsWith('join:'));
  return [
    { title: 'Old panel', positions: screws },
    ...filledStrip('Splices in the old panel', jointsOf(plan, spliced)),
    ...filledStrip('Not connected', [
      { id: '', shape: 'none', role: 'loose ends', holds: loose.map((c) => drawConductor(plan, c)) },
    ]),
    ...filledStrip(
      'Cables that go on from a detector',
      jointsOf(
        plan,
        wiring.conductors.filter((c) => !c.atPanel),
      ),
    ),
    ...filledStrip('Resistors out in the building', outside(plan)),
  ];
}

/** Conductors by the joint or terminal at which they begin. */
export function jointsOf(plan: Plan, conductors: readonly WiredConductor[]): DrawnPosition[] {
  const nodes = [...new Set(conductors.map((c) => c.near))];
  return nodes.map((node): DrawnPosition => {
    const holds = conductors.filter((c) => c.near === node).map((c) => drawConductor(plan, c));
    if (node.startsWith('old:')) return { id: node.slice(4), shape: 'screw', role: 'old panel', holds };
    return {
      id: '',
      shape: node.startsWith('end:') ? 'none' : 'joint',
      role: nodeWords(plan, node),
      holds,
    };
  });
}

/** A place where conductors meet, in the site's names. */
function nodeWords(plan: Plan, node: string): string {
  const [kind = '', rest = ''] = node.split(':');
  if (kind === 'join') return `splice ${rest}`;
  if (kind === 'field') return `join at the far end of ${rest.split('.')[0]}`;
  if (kind === 'post') return `at ${nameOfDetector(plan, rest.split('.')[0] ?? '')}`;
  return kind === 'end' ? 'loose end' : rest;
}

function between(
  { near }: WiredConductor,
  screw: string,
  resistors: readonly FittedResistor[],
): string | null {
  const old = `old:${screw}`;
  if (near === old) return null;
  const fitted = resistors.find((r) => r.place === 'panel' && [r.a, r.b].includes(near) && reaches(r, old));
  return fitted === undefined ? null : resistorValue(fitted.ohms);
}

const reaches = ({ a, b }: FittedResistor, node: string) => a === node || b === node;

/** Resistors that stand across two screws, drawn at the first of them. */
function bridging(screw: string, resistors: readonly FittedResistor[]): DrawnResistor[] {
  return resistors
    .filter(({ a, b }) => a === `old:${screw}` && b.startsWith('old:'))
    .map(({ ohms, b }) => ({
      kind: 'resistor',
      value: resistorValue(ohms),
      says: `resistor across to ${b.slice(4)}`,
    }));
}

function outside(plan: Plan): DrawnPosition[] {
  const away = plan.wiring.resistors.filter((resistor) => resistor.place !== 'panel');
  return away.map(({ place, ohms, role, zone }) => ({
    id: '',
    shape: 'none',
    role:
      place === null || place === 'panel'
        ? `zone ${zone}: nobody knows where`
        : nameOfDetector(plan, place.detector),
    holds: [{ kind: 'resistor', value: resistorValue(ohms), says: ROLES[role] }],
  }));
}

const ROLES: Readonly<Record<FittedResistor['role'], string>> = {
  'end-of-line': 'end-of-line resistor',
  alarm: 'resistor at the contact',
  bridge: 'resistor across the contact',
};

function roleWords(plan: Plan, number: string, role: string): string {
  const zones = plan.survey.zones.filter((zone) => zone.terminals.includes(number)).map((zone) => zone.name);
  return zones.length > 0 ? zones.join(' / ') : role.replace('-positive', ' +').replace('-negative', ' −');
}
