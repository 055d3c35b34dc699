import type { DetectorKind } from '../../site/survey.ts';

type Kind = readonly [id: DetectorKind, label: string];

/** The nine that one digit reaches. */
export const COMMON_KINDS: readonly Kind[] = [
  ['door-contact', 'door contact'],
  ['window-contact', 'window contact'],
  ['shutter-contact', 'shutter contact'],
  ['movement', 'movement detector'],
  ['glass-break', 'glass-break detector'],
  ['flood', 'flood switch'],
  ['smoke', 'smoke detector (stays out of the new board)'],
  ['panic', 'panic button'],
];

export const OTHER_KINDS: readonly Kind[] = [
  ['vibration', 'vibration'],
  ['temperature', 'temperature'],
  ['technical', 'another technical alarm'],
  ['keyswitch', 'keyswitch'],
  ['shunt-lock', 'shunt lock'],
  ['receiver-channel', 'channel of a radio receiver'],
  ['heat', 'heat (life safety)'],
  ['carbon-monoxide', 'carbon monoxide (life safety)'],
  ['gas', 'gas (life safety)'],
  ['medical', 'medical (life safety)'],
  ['sprinkler', 'sprinkler flow (life safety)'],
  ['unknown', 'not known yet (counts as life safety)'],
];

const POWERED: ReadonlySet<string> = new Set([
  'movement',
  'glass-break',
  'vibration',
  'smoke',
  'heat',
  'carbon-monoxide',
  'gas',
  'receiver-channel',
]);

/** Whether detectors of this kind are fed from the panel as a rule. */
export function isPowered(kind: string): boolean {
  return POWERED.has(kind);
}

const PLACES: Readonly<Record<string, string>> = {
  'door-contact': 'entry',
  'shutter-contact': 'entry',
  'window-contact': 'perimeter',
  'glass-break': 'perimeter',
};

/** Where such a detector sits as a rule; said in the file, for it only settles what is grouped with what. */
export function usualPlace(kind: string): string {
  return PLACES[kind] ?? 'interior';
}
