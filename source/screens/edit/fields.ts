import type { QuantityKind } from '../../electrical/quantity.ts';
import type { ChangeValue } from '../../site/correct-survey.ts';
import type { Written } from '../../site/document.ts';
import { COMMON_KINDS, OTHER_KINDS } from '../survey/kinds.ts';
import {
  CONTACTS,
  EMERGENCY_KEYS,
  ENCLOSURES,
  FEEDS,
  JOINED,
  PLACES,
  PRESENCE,
  SET,
  SIGNALLING,
  STYLES,
  YES_NO,
} from '../survey/options.ts';
import { choice, currents, figure, pair, type Question, words } from '../survey/question.ts';

export type Options = readonly (readonly [id: string, label: string])[];

/** One field of a survey's file that the screens let be changed: where it stands, and how it is asked for. */
export type FieldDef = {
  readonly field: string;
  readonly label: string;
  readonly asks: string;
  readonly by: 'words' | 'pair' | 'currents' | { readonly of: QuantityKind } | { readonly options: Options };
};

const def = (field: string, label: string, asks: string, by: FieldDef['by']): FieldDef => ({
  field,
  label,
  asks,
  by,
});
const of = (quantity: QuantityKind) => ({ of: quantity });

export const SITE_FIELDS: readonly FieldDef[] = [
  def('site.name', 'name', 'What is the place called?', 'words'),
  def('site.reference', 'reference', 'Its reference', 'words'),
  def('site.contact', 'contact', 'Whom to ask there', 'words'),
  def('conditions.cableTemperature', 'cables', 'How warm are the cables, in degrees?', of('celsius')),
  def('conditions.batteryTemperature', 'battery', 'How warm is the battery, in degrees?', of('celsius')),
  def('policy.holdUp', 'hold-up', 'How long must the battery hold, such as 12 h?', of('seconds')),
  def('policy.alarm', 'alarm', 'How long must it sound then, such as 15 min?', of('seconds')),
  def(
    'policy.interruption',
    'break',
    'After which break is dead proved again, such as 15 min?',
    of('seconds'),
  ),
];

export const OUTSIDE_FIELDS: readonly FieldDef[] = [
  def('outside.feed', 'fed by', 'How is the old panel fed?', { options: FEEDS }),
  def('outside.signalling', 'calls out', 'How does it call out?', { options: SIGNALLING }),
  def('outside.monitored', 'monitored', 'Does a receiving centre listen?', { options: YES_NO }),
  def('outside.set', 'stands', 'How does the system stand?', { options: SET }),
  def('outside.lifeSafety', 'life safety', 'Smoke, heat, gas, medical or the like on this panel?', {
    options: PRESENCE,
  }),
  def('outside.otherFeeds', 'other feeds', 'Other power supplies that feed detectors?', {
    options: PRESENCE,
  }),
  def('outside.sounderBattery', 'sounder', 'Has the sounder a battery of its own?', { options: YES_NO }),
  def('panel.feedVoltage', 'feed', 'What does its feed give, in volts?', of('volts')),
  def('panel.enclosure', 'enclosure', 'What is the enclosure of?', { options: ENCLOSURES }),
  def('panel.earthed', 'earthed', 'Is it earthed?', { options: YES_NO }),
  def('panel.batteries.1.capacity', 'battery', 'Its standby battery, in Ah', of('ampHours')),
  def('panel.slack', 'slack', 'How much conductor is there to spare at the panel?', of('metres')),
];

/** @param detectors ids and names of those on the zone */
export function zoneFields(detectors: Options, style: string): readonly FieldDef[] {
  const at: Options = [
    ['panel', 'at the panel'],
    ...detectors.map(([id, name]) => [`at ${id}`, `out at ${name}`] as const),
    ['unknown', 'nobody knows'],
  ];
  return [
    def('name', 'name', 'What is the zone called?', 'words'),
    def('terminals', 'screws', 'Its two screws', 'pair'),
    def('loop.style', 'loop', 'What is its loop like?', { options: STYLES }),
    ...(style === 'plain'
      ? []
      : [
          def('loop.resistor', 'resistor', 'Its resistor, in ohms', of('ohms')),
          ...(style === 'two-resistor'
            ? [def('loop.alarmResistor', 'alarm resistor', 'The one across the contact, in ohms', of('ohms'))]
            : []),
          def('loop.resistorAt', 'resistor at', 'Where does the resistor sit?', { options: at }),
        ]),
    ...(detectors.length > 1
      ? [def('joined', 'joined', 'How are its detectors joined?', { options: JOINED })]
      : []),
  ];
}

const IMPORTANCE: Options = [
  ['1', '1: as any other'],
  ['2', '2'],
  ['3', '3'],
  ['4', '4'],
  ['5', '5: above all others'],
  ['0', '0: does not matter'],
];

export const DETECTOR_FIELDS: readonly FieldDef[] = [
  def('name', 'name', 'What is it called?', 'words'),
  def('kind', 'kind', 'What is it?', { options: [...COMMON_KINDS, ...OTHER_KINDS] }),
  def('contact', 'contact', 'Its contact', { options: CONTACTS }),
  def('place', 'place', 'Where does it sit?', { options: PLACES }),
  def('importance', 'importance', 'How important is it to know this one by itself?', { options: IMPORTANCE }),
  def('supply', 'draws', 'What it draws at rest and in alarm, in mA', 'currents'),
];

export const CABLE_FIELDS: readonly FieldDef[] = [
  def('length', 'cable', 'How long is its cable?', of('metres')),
  def('measured', 'measured', 'Was that measured?', { options: YES_NO.slice(0, 2) }),
  def('conductor', 'conductor', 'The size of its conductors, such as 22 AWG or 0.22 mm2', 'words'),
];

export const SOUNDER_FIELDS: readonly FieldDef[] = [
  def('name', 'name', 'What is it called?', 'words'),
  def('current', 'draws', 'What it draws, in mA', of('amps')),
  def('minimum', 'least', 'The least voltage it works at, in volts', of('volts')),
  def('ownBattery', 'own battery', 'Has it a battery of its own?', { options: YES_NO }),
];

export const KEYPAD_FIELDS: readonly FieldDef[] = [
  def('emergencyKeys', 'keys', 'Has it keys for fire, medical or panic?', { options: EMERGENCY_KEYS }),
];

/** The question that changes a field; Enter leaves it as it is. */
export function questionFor(
  { asks, by }: FieldDef,
  id: string,
  about: string,
  held: string | null,
): Question {
  const said = { id, about, asks, standard: held };
  if (by === 'words') return words(said);
  if (by === 'pair') return pair(said);
  if (by === 'currents') return { ...currents(said), standard: held ?? 'unknown' };
  return 'of' in by ? figure(said, by.of) : choice(said, ...by.options);
}

/** A value of the file as an answer to its question. */
export function answerOf(written: Written | null): string | null {
  if (written === null || typeof written === 'string') return written;
  if (Array.isArray(written))
    return written.every((one) => typeof one === 'string') ? written.join(' ') : 'in part';
  const group = written as Readonly<Record<string, Written>>;
  if (typeof group.detector === 'string') return `at ${group.detector}`;
  return ['standby', 'alarm'].flatMap((name) => group[name] ?? []).join(' / ') || 'unknown';
}

/** An answer as the values it changes, by field. */
export function valuesOf(
  { field, by }: FieldDef,
  answer: string,
): readonly (readonly [string, ChangeValue])[] {
  if (by === 'pair') return [[field, answer.split(' ')]];
  if (by === 'currents') {
    if (answer === 'unknown') return [[field, answer]];
    const [standby, alarm] = answer.split(' ').map((figure) => `${figure} mA`);
    return [
      [`${field}.standby`, standby!],
      ...(alarm === undefined ? [] : [[`${field}.alarm`, alarm] as const]),
    ];
  }
  return [
    [field, answer.startsWith('at ') && field === 'loop.resistorAt' ? { detector: answer.slice(3) } : answer],
  ];
}
