import type { Conductor } from '../electrical/conductor.ts';
import type { CoreUse } from '../wiring/wiring.ts';

/**
 * The survey as the rest of the program sees it: parsed, SI units, ids resolved, defaults filled in.
 * What a default filled in stands in {@link Survey.assumed}, by path.
 */
export type Survey = {
  readonly site: {
    readonly name: string;
    readonly reference: string;
    readonly address?: string;
    readonly contact?: string;
  };
  readonly conditions: { readonly cableCelsius: number; readonly batteryCelsius: number };
  readonly policy: {
    readonly holdUpHours: number;
    readonly alarmHours: number;
    readonly batteryMargin: number;
    /** 300 to 3600. */
    readonly interruptionSeconds: number;
  };
  readonly outside: Outside;
  /** False while only the `outside` part has been surveyed. */
  readonly complete: boolean;
  readonly panel: Panel;
  readonly supplies: readonly OtherSupply[];
  readonly outputs: readonly Output[];
  readonly network: {
    readonly kind: 'wired' | 'wireless' | 'unknown';
    readonly backupHours: number | 'none' | 'unknown';
  };
  readonly zones: readonly Zone[];
  readonly mayShare: readonly (readonly string[])[];
  readonly tampers: readonly TamperLoop[];
  readonly detectors: readonly Detector[];
  readonly cables: readonly Cable[];
  readonly sounders: readonly Sounder[];
  readonly keypads: readonly Keypad[];
  readonly boards: readonly { readonly id: string; readonly file: string }[];
  readonly assumed: readonly Assumed[];
};

export type Assumed = { readonly about: string; readonly field: string; readonly value: string };

type Outside = {
  readonly feed:
    | 'plug-in-transformer'
    | 'dc-adapter'
    | 'hard-wired-transformer'
    | 'mains-in-enclosure'
    | 'unknown';
  readonly signalling: 'none' | 'telephone' | 'network' | 'radio' | 'unknown';
  readonly monitored: 'yes' | 'no' | 'unknown';
  readonly set: 'unset' | 'service' | 'set' | 'unknown';
  readonly lifeSafety: 'none' | 'present' | 'unknown';
  readonly otherFeeds: 'none' | 'present' | 'unknown';
  readonly sounderBattery: 'yes' | 'no' | 'unknown';
};

export type TerminalRole =
  | 'ac'
  | 'battery'
  | 'sounder'
  | 'aux-positive'
  | 'aux-negative'
  | 'keypad'
  | 'telephone'
  | 'earth'
  | 'output'
  | 'zone'
  | 'common'
  | 'unused';

export type Panel = {
  readonly feedVolts: number | null;
  readonly enclosure: 'metal' | 'plastic' | 'wood' | 'none' | 'unknown';
  readonly earthed: 'yes' | 'no' | 'unknown';
  readonly batteries: readonly {
    readonly capacityAmpHours: number | null;
    readonly chemistry: string;
    readonly installed: string | null;
  }[];
  readonly slackMetres: number | null;
  readonly terminals: readonly { readonly number: string; readonly role: TerminalRole }[];
};

export type OtherSupply = {
  readonly id: string;
  readonly place: string;
  readonly kind: string;
  readonly battery: 'yes' | 'no' | 'unknown';
  readonly feeds: readonly string[];
};
type Output = {
  readonly terminals: readonly string[];
  readonly drives: string;
  readonly voltage: 'extra-low' | 'mains' | 'unknown';
};

export type LoopStyle = 'plain' | 'series' | 'across' | 'mixed' | 'two-resistor' | 'bridged';

export type Loop = {
  readonly style: LoopStyle;
  /** End-of-line (or series) resistor; `unknown` until read; null where the style has none. */
  readonly resistorOhms: number | 'unknown' | null;
  readonly alarmResistorOhms: number | 'unknown' | null;
  readonly resistorAt:
    | 'panel'
    | 'unknown'
    | { readonly detector: string; readonly by: 'jumper' | 'part' | 'unknown' }
    | null;
  /** `bridged` only: ohms across each detector's contact. */
  readonly bridges: Readonly<Record<string, number>>;
};

export type Zone = {
  readonly id: string;
  readonly name: string;
  readonly terminals: readonly [string, string];
  readonly loop: Loop;
  /** How several detectors are joined. `fieldSets` lists the sets that cannot be parted at the panel. */
  readonly joined: 'panel' | 'field' | 'single';
  readonly fieldSets: readonly (readonly string[])[];
  readonly detectors: readonly string[];
};

export type TamperLoop = {
  readonly id: string;
  readonly terminals: readonly [string, string];
  readonly through: readonly string[];
  readonly loop: Loop;
  readonly keep: 'yes' | 'given-up';
};

export const DETECTOR_KINDS = [
  'door-contact',
  'window-contact',
  'shutter-contact',
  'movement',
  'glass-break',
  'vibration',
  'panic',
  'flood',
  'temperature',
  'technical',
  'keyswitch',
  'shunt-lock',
  'receiver-channel',
  'smoke',
  'heat',
  'carbon-monoxide',
  'gas',
  'medical',
  'sprinkler',
  'unknown',
] as const;
export type DetectorKind = (typeof DETECTOR_KINDS)[number];

/** From `smoke` on a kind counts as life safety; so does `unknown`, until it has been seen what it is. */
export function isLifeSafety(kind: DetectorKind): boolean {
  return DETECTOR_KINDS.indexOf(kind) >= DETECTOR_KINDS.indexOf('smoke');
}

export type Detector = {
  readonly id: string;
  readonly name: string;
  readonly kind: DetectorKind;
  readonly contact: 'normally-closed' | 'normally-open' | 'changeover' | 'unknown';
  readonly place: 'entry' | 'perimeter' | 'interior' | 'outside';
  readonly cable: string;
  /** 0 to 5. */
  readonly importance: number;
  /** `board/input`, where the customer asked for one. */
  readonly input: string | null;
  readonly pulse: number | 'none' | 'needs-analyser' | 'unknown';
  /** `null`: the contact needs no supply. `from-loop`: fed by the loop itself. */
  readonly supply:
    | null
    | 'from-loop'
    | {
        readonly standbyAmps: number;
        readonly alarmAmps: number;
        readonly minimumVolts: number;
        readonly maximumVolts: number;
        readonly warmUpSeconds: number;
      };
  readonly control: 'none' | 'reset' | 'set-line' | 'unknown';
  readonly unpowered: 'open' | 'closed' | 'unknown';
  readonly tamper: 'none' | 'in-loop' | 'own';
};

export type Core = {
  readonly colour: string;
  readonly use: CoreUse;
  readonly for: string | null;
  readonly at: string | null;
};

export type Cable = {
  readonly id: string;
  /** One way. Bounds follow from whether it was measured; `null` nominal means unknown and is assumed. */
  readonly lengthMetres: number;
  readonly lengthKnown: 'measured' | 'estimated' | 'unknown';
  readonly conductor: Conductor;
  readonly conductorKnown: boolean;
  /** `panel`, or the id of the cable whose far end feeds this one. */
  readonly from: string;
  readonly cores: readonly Core[];
};

export type Sounder = {
  readonly id: string;
  readonly name: string;
  readonly cable: string;
  readonly currentAmps: number | null;
  readonly minimumVolts: number;
  readonly wiring: 'two-wire' | 'hold-off' | 'unknown';
  readonly ownBattery: 'yes' | 'no' | 'unknown';
  readonly trigger:
    | 'supply'
    | 'negative-applied'
    | 'negative-removed'
    | 'positive-applied'
    | 'positive-removed'
    | 'unknown';
  readonly strobeAmps: number | null;
  readonly holdOffAmps: number | null;
};

export type Keypad = {
  readonly id: string;
  readonly cable: string;
  readonly emergencyKeys: 'none' | 'fire' | 'medical' | 'panic' | 'unknown';
};
