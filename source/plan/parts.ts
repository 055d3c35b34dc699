import type { Board } from '../site/board.ts';
import type { Circuit, Connection, Plan, TerminalUse, ZonePlan } from './plan.ts';

/** What to bring, counted from the connections. */
export function computeParts(
  connections: readonly Connection[],
  terminals: readonly TerminalUse[],
  circuits: readonly Circuit[],
  zones: readonly ZonePlan[],
  boards: readonly Board[],
): Plan['parts'] {
  const by = (how: Connection['by']) => connections.filter((connection) => connection.by === how);
  const joints = new Set(by('splice').flatMap(({ to }) => ('joint' in to ? [to.joint] : [])));
  const at = (remedy: TerminalUse['remedy']) =>
    terminals.filter((terminal) => terminal.remedy === remedy).length;
  const counted: [string, number][] = [
    ['wire label', connections.filter(({ by }) => by !== 'untouched').length],
    ['splice', joints.size + at('pigtail') + by('extension').length],
    ['pigtail', at('pigtail') + at('block')],
    ['distribution block', at('block')],
    ['extension lead', by('extension').length],
    ['insulating cap', by('parked').length],
  ];
  const others = new Map<string, number>();
  const add = (item: string) => others.set(item, (others.get(item) ?? 0) + 1);
  for (const { resistor, detectors } of circuits) {
    if (resistor.newOhms !== null) add(`resistor ${resistor.newOhms} ohm`);
    for (const _ of detectors)
      if (resistor.newAlarmOhms !== undefined) add(`resistor ${resistor.newAlarmOhms} ohm`);
  }
  for (const { fitted } of zones)
    for (const { work, at } of fitted) if (work !== 'keep' && at !== 'panel') add('splice at a detector');
  for (const { adapter, battery } of boards) {
    add(`adapter ${adapter.volts} V DC ${adapter.amps} A`);
    if (battery) add(`battery ${battery.volts} V ${battery.capacityAmpHours} Ah with fused leads`);
  }
  return [...counted, ...others].filter(([, count]) => count > 0).map(([item, count]) => ({ item, count }));
}
