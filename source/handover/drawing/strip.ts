import { formatQuantity } from '../../electrical/quantity.ts';
import type { Plan } from '../../plan/plan.ts';
import type { CoreUse, WiredConductor } from '../../wiring/wiring.ts';

/** What a conductor ends on out in the building, as a symbol; a plain end where none says more. */
export type EndSymbol = 'closed-contact' | 'open-contact' | 'plus' | 'minus' | 'sounder' | 'end';

/** One conductor as it is drawn at a screw or joint: its colour is always also a word. */
export type DrawnConductor = {
  readonly kind: 'conductor';
  readonly id: string;
  readonly colour: string;
  /** What it serves, in the site's own names. */
  readonly serves: string;
  readonly symbol: EndSymbol;
  /** The resistor that sits between the screw and it, by its value in words. */
  readonly resistor: string | null;
  /** How it is landed where not straight under the screw: `pigtail`, `splice`, `end insulated`. */
  readonly by: string | null;
};

/** A resistor that hangs on a screw, or sits at a detector, by itself. */
export type DrawnResistor = { readonly kind: 'resistor'; readonly value: string; readonly says: string };

export type DrawnPosition = {
  readonly id: string;
  /** A screw, a joint of conductors, or neither: loose and parked ends. */
  readonly shape: 'screw' | 'joint' | 'none';
  readonly role: string;
  readonly holds: readonly (DrawnConductor | DrawnResistor)[];
};

export type DrawnStrip = { readonly title: string; readonly positions: readonly DrawnPosition[] };

/** A conductor as it is drawn at a screw or joint; `resistor` beside it, `by` whom it was moved. */
export function drawConductor(
  plan: Plan,
  conductor: WiredConductor,
  more: { readonly resistor?: string | null; readonly by?: string | null } = {},
): DrawnConductor {
  return {
    kind: 'conductor',
    id: conductor.id,
    colour: conductor.colour,
    serves: servesWords(plan, conductor),
    symbol: symbolOf(plan, conductor),
    resistor: more.resistor ?? null,
    by: more.by ?? null,
  };
}

/** A strip of those positions that hold something, or none at all. */
export function filledStrip(title: string, positions: readonly DrawnPosition[]): DrawnStrip[] {
  const filled = positions.filter((position) => position.holds.length > 0);
  return filled.length > 0 ? [{ title, positions: filled }] : [];
}

/** A resistor's value in words. */
export function resistorValue(ohms: number | 'unknown' | null): string {
  return typeof ohms === 'number' ? formatQuantity(ohms, 'ohms') : 'value unknown';
}

/** What a conductor serves, in the site's names: `Boat-store shutter`, `Sail loft movement, aux +`. */
export function servesWords(plan: Plan, conductor: WiredConductor): string {
  const { survey } = plan;
  const detector = survey.detectors.find((d) => d.id === conductor.for);
  const sounder = survey.sounders.find((s) => s.id === conductor.for);
  const name = detector?.name ?? sounder?.name ?? conductor.for;
  const use = USES[conductor.use] ?? conductor.use;
  return [name, use].filter((part) => part !== null && part !== '').join(', ');
}

/** What people call a detector; its id where the survey has no such one. */
export function nameOfDetector({ survey }: Plan, id: string): string {
  return survey.detectors.find((detector) => detector.id === id)?.name ?? id;
}

const USES: Partial<Record<CoreUse, string>> = {
  loop: '',
  'aux-positive': 'aux +',
  'aux-negative': 'aux −',
  'sounder-positive': 'sounder +',
  'sounder-negative': 'sounder −',
  'hold-off': 'hold-off',
  'tamper-return': 'tamper return',
};

const SYMBOLS: Partial<Record<CoreUse, EndSymbol>> = {
  'aux-positive': 'plus',
  'aux-negative': 'minus',
  'sounder-positive': 'sounder',
  'sounder-negative': 'sounder',
};

function symbolOf(plan: Plan, { use, for: served }: WiredConductor): EndSymbol {
  if (use !== 'loop') return SYMBOLS[use] ?? 'end';
  const contact = plan.survey.detectors.find((d) => d.id === served)?.contact;
  if (contact === 'normally-open') return 'open-contact';
  return contact === 'normally-closed' ? 'closed-contact' : 'end';
}
