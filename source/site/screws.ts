import type { CoreUse } from '../wiring/wiring.ts';
import type { Cable, Core, Panel, TerminalRole } from './survey.ts';

/** Which screw of a role a core goes to by its use, where the survey does not say. */
const HOME: Partial<Record<CoreUse, { readonly role: TerminalRole; readonly nth: number | 'own' }>> = {
  'aux-positive': { role: 'aux-positive', nth: 0 },
  'aux-negative': { role: 'aux-negative', nth: 0 },
  'hold-off': { role: 'aux-positive', nth: 0 },
  'sounder-positive': { role: 'sounder', nth: 0 },
  'sounder-negative': { role: 'sounder', nth: 1 },
  keypad: { role: 'keypad', nth: 'own' },
  telephone: { role: 'telephone', nth: 'own' },
};

/** Uses that end at a screw of the panel but not at one that could be guessed. */
const NEEDS_SCREW: ReadonlySet<CoreUse> = new Set(['trigger', 'strobe']);

/** The role of the screw that a core of this use sits on. */
export function roleOfUse(use: CoreUse): TerminalRole | null {
  return HOME[use]?.role ?? (NEEDS_SCREW.has(use) ? 'output' : null);
}

/** The panel's screw under which a core sits that belongs to no loop; null where it is in mid air. */
export function homeScrew(cable: Cable, number: number, panel: Panel): string | null {
  const core = cable.cores[number - 1]!;
  if (core.at !== null) return core.at;
  const home = HOME[core.use];
  if (home === undefined || cable.from !== 'panel') return null;
  const nth = home.nth === 'own' ? rankAmongUse(cable.cores, number) : home.nth;
  return panel.terminals.filter((terminal) => terminal.role === home.role)[nth]?.number ?? null;
}

/** True for a core that must sit on a screw, when no screw can be told. */
export function lacksScrew(cable: Cable, number: number, panel: Panel): boolean {
  const { use } = cable.cores[number - 1]!;
  if (cable.from !== 'panel' || homeScrew(cable, number, panel) !== null) return false;
  return HOME[use] !== undefined || NEEDS_SCREW.has(use);
}

/**
 * Names for the screws of a panel whose terminals nobody has listed, by the use of the cores on them.
 *
 * @param rank how many cores of the same use the cable has before this one
 */
export function standInScrew(use: CoreUse, rank: number): string | null {
  const home = HOME[use];
  if (home === undefined) return null;
  if (home.nth === 'own') return `${use}${rank + 1}`;
  return {
    'aux-positive': 'aux+',
    'aux-negative': 'aux-',
    sounder: home.nth === 0 ? 'sounder+' : 'sounder-',
  }[home.role as 'sounder'];
}

/** How many cores before this one serve the same use: 0 for the first. Cores are numbered from 1. */
export function rankAmongUse(cores: readonly Core[], number: number): number {
  const { use } = cores[number - 1]!;
  return cores.slice(0, number - 1).filter((core) => core.use === use).length;
}
