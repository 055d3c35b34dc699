import type { FindingCode } from '../finding-codes.ts';
import { PRACTICE, type Reason } from './reason.ts';

export const SITE_REASONS = {
  'survey-incomplete': {
    why: 'What stands inside the enclosure is not known yet, so nothing can be laid on inputs.',
    rule: 'Zones are listed, or only the part seen from outside is.',
    source: PRACTICE,
  },
  'life-safety-held-out': {
    why: 'An input board is no fire panel. Smoke, heat, carbon monoxide, gas, medical and sprinkler circuits stay whole; what nobody has identified counts as one of them.',
    rule: 'Kind from smoke on, or unknown; whatever stands in one loop or hangs on one core with it; a keypad with emergency keys. No way round it.',
    source:
      'NFPA 72 ch. 29 (listed control unit), NFPA 731 4.1.2 and 4.1.3 (security must not interfere), NFPA 72 4.6 (impairments are recorded).',
  },
  'life-safety-shares': {
    why: 'Loosening a screw that also holds a life-safety wire may take that circuit out of service unnoticed.',
    rule: 'One old screw holds conductors of both, among them supply rails.',
    source: 'NFPA 731 4.1.3: ancillary equipment must not interfere with life safety.',
  },
  'mains-in-enclosure': {
    why: 'Mains kills, and nobody needs to be near it for this job: a licensed person isolates it first.',
    rule: 'The feed is wired for good, or mains enters the enclosure.',
    source:
      'NFPA 70E 120.5 and HSE HSG85: isolate, prove dead, by a competent person. Local rules say who that is.',
  },
  'feed-unknown': {
    why: 'What is not known is treated as the worst that it can be.',
    rule: 'The survey does not say how the panel is fed.',
    source: 'NFPA 70E-2018 120.5: identify all sources first.',
  },
  monitored: {
    why: 'A receiving centre sends people. It must know of the work before, and hear of its end after.',
    rule: 'Monitored, or unknown.',
    source:
      'BS 8473 (false alarms); monitoring-station guidance: on test for a stated time, explicitly off test after.',
  },
  'telephone-line': {
    why: 'A telephone line is a source of its own: it idles at 50 to 60 V DC and rings at about 90 V AC.',
    rule: 'Signalling by telephone, or unknown.',
    source: 'Cabling Installation & Maintenance, 1996-06; removal of premises wiring: 47 CFR 68.214.',
  },
  'foreign-supply': {
    why: 'A plug that is pulled is not a dead installation: every other source is a step of its own.',
    rule: 'Another power supply is listed, or feeds from elsewhere are present or unknown.',
    source: '29 CFR 1910.333(b)(2): disconnect from all sources, test also for unrelated backfeed.',
  },
  'output-mains': {
    why: 'A relay of the panel may switch mains, also where the panel itself is fed by a plug.',
    rule: 'An output switches mains, or nobody knows what it switches.',
    source: 'NFPA 70E-2018 120.5; NEC 725.136 (separation of Class 2 from power).',
  },
  'network-without-backup': {
    why: 'A board on its battery tells nobody anything when the network equipment has gone dark.',
    rule: 'Backup of the network equipment is none, unknown, or shorter than the wanted hold-up.',
    source: PRACTICE,
  },
  'wireless-in-metal': {
    why: 'A closed metal enclosure is a screen around the aerial.',
    rule: 'Enclosure of metal and a board that speaks by radio.',
    source: PRACTICE,
  },
  'own-feed-ac': {
    why: 'The old transformer gives AC, and a DC input stands no half wave of the wrong sign.',
    rule: 'The panel is fed by a transformer.',
    source: PRACTICE,
  },
} as const satisfies Partial<Record<FindingCode, Reason>>;
