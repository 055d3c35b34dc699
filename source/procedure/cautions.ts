import type { Caution } from './step.ts';

/**
 * What can hurt, each with the published source behind it. A caution says what is so and never what to do: the
 * action stands below it (NUREG-0899; its year, 1982, from memory). Where nothing published was found, that is said.
 */
const CAUTIONS = {
  'local-rules': [
    'Local codes, licences and permits rule over everything shown here.',
    'UL 681 and NEC (NFPA 70) article 725; state and municipal ordinances differ',
  ],
  'mains-inside': [
    'Mains kills. Nothing here says how to work on it: that is for a licensed electrician.',
    '29 CFR 1910.333(b)(2); HSE HSG85 (2013, from memory)',
  ],
  'several-sources': [
    'A pulled plug is not dead: battery, sounder, telephone line and foreign supplies feed back.',
    '29 CFR 1910.333(b)(2)(ii)(B): all sources; NFPA 70E-2018 120.5',
  ],
  'proof-perishes': [
    'A proof of dead holds for the person and the sitting it was made in, and no longer.',
    '29 CFR 1910.147(d)(6), (f)(4); Cabling Installation & Maintenance, June 1996: whenever work resumes',
  ],
  'instrument-first': [
    'An instrument that has failed reads zero on a live wire.',
    'HSE HSG85 (2013, from memory) and GS38: prove, test, prove; NFPA 70E-2018 120.5: live-dead-live',
  ],
  'induced-voltage': [
    'A long cable beside another shows a voltage that is induced, or one that is real. Only a load tells them apart.',
    '29 CFR 1910.333(b)(2)(iv)(B): induced voltage or unrelated backfeed',
  ],
  'voltage-hidden': [
    'A telephone line or another system may be shorted at the old screw, and stands on the wire once it is lifted. Read volts first: an ohmmeter on it lies, and takes harm.',
    '29 CFR 1910.333(b)(2)(iv)(B): induced voltage or unrelated backfeed; Cabling Installation & Maintenance, June 1996',
  ],
  'voltage-behind-relay': [
    'A voltage between two detectors that are without supply cannot be seen at the panel. Read volts at a detector’s terminals before a hand goes to them.',
    '29 CFR 1910.333(b)(2)(iv)(B): induced voltage or unrelated backfeed',
  ],
  'battery-short': [
    'A ring, watch or bare tool across battery terminals is heated red at once. A 12 V battery burns, it does not shock.',
    'HSE INDG139; US Army TM 10-3930-669-20',
  ],
  'battery-order': [
    'A tool that slips from the positive terminal to an earthed enclosure shorts the battery while its negative is still on.',
    'US Army TM 10-3930-669-20: negative lead off first, on last',
  ],
  'battery-charger': [
    'A battery lead that is lifted while the charger works sparks, and lead-acid vents hydrogen.',
    'HSE INDG139; EN IEC 62485-2 (from memory)',
  ],
  'acid-eye': [
    'Acid in an eye: rinse with water for 15 minutes and call for medical help.',
    'battery makers’ safety sheets; HSE INDG139',
  ],
  'telephone-ringing': [
    'A telephone line rests at 50 V DC and rings at about 90 V AC. It can shock.',
    'Cabling Installation & Maintenance, June 1996; 47 CFR 68.214, 68.215(c)',
  ],
  'life-safety': [
    'A fire, heat, CO or medical circuit may be the only protection of the people here. An input board does not protect anybody.',
    'NFPA 72-2019 ch. 29; NFPA 731 4.1.2, 4.1.3',
  ],
  impairment: [
    'While a required life-safety circuit is out of service, owner and authority must know, and a fire watch may be due.',
    'NFPA 72-2016 10.20; IFC 901.7',
  ],
  'sounder-loud': [
    'A sounder at arm’s length exceeds 100 dB without warning. On a ladder that is a fall.',
    '29 CFR 1910.95 table G-16: 115 dBA for 15 minutes at most; HSE INDG455',
  ],
  'sounder-battery': [
    'A sounder with a battery of its own sounds when its hold-off voltage goes.',
    'intruder-alarm textbooks; EN 50131-4 (scope)',
  ],
  ladder: [
    'Falls from ladders kill. A ladder is for short, light work with three points of contact.',
    'HSE INDG455 and LA455',
  ],
  asbestos: [
    'Ceilings, boards and coatings of older buildings may hold asbestos. One drilled hole sets it free.',
    'HSE asbestos essentials; 29 CFR 1926.1101 (from memory)',
  ],
  'hidden-cables': [
    'Mains cables and pipes run where nobody would look, above all in line with sockets and switches.',
    'BS 7671 522.6 (2018 and 522.6.202 from memory)',
  ],
  static: ['A spark too small to feel kills a bare board.', 'ANSI/ESD S20.20-2021: from 100 V on'],
  'metal-box': ['A board on bare metal, a swarf or a loose strand is a short.', 'common practice, no source'],
  bonding: [
    'A metal enclosure that is earthed keeps its protective conductor, and is never a return for the 12 V.',
    'BS 7671:2018 411.3; NEC (NFPA 70) article 250 (both from memory)',
  ],
  'ac-on-dc': [
    'The old feed is AC. It destroys a DC board, and so does reversed polarity.',
    'common practice, no source',
  ],
  'shared-screw': [
    'Once one wire of a shared screw is out, nobody knows any more which was which.',
    'CSE, Newcomb & Boyd: both ends labelled to match the drawings; trade code: cables marked at panel, joint and device',
  ],
  'resistor-watch': [
    'An end-of-line resistor was what showed a shorted pair. Without it nothing does, unless the board supervises.',
    'EN 50131-1 (from memory); common practice',
  ],
  'energise-check': [
    'Power on wiring that nobody has looked over finds the tool, strand or strap that was left in it.',
    '29 CFR 1910.333(b)(2)(v)(A)-(D)',
  ],
  'test-under-power': [
    'A test under power ends with isolating and proving dead again before a hand goes back to the wiring.',
    '29 CFR 1910.147(f)(1); OSHA letter of 21 October 2024',
  ],
  'no-adjusting': [
    'A detector that is adjusted while it is being tested has not been tested.',
    'UFGS 13702N: no adjustment during a test',
  ],
  'sounding-time': [
    'Long sounding outside is an offence in many places, from 5 to 20 minutes on.',
    'EN 50131-1: 15 min at most (from memory); Oakland 8.02.030: 15 min; Geneva IL: 10 min',
  ],
  unprotected: [
    'While the panel is off the premises are unprotected, and the insurer may want to know.',
    'BS 8243 4.1.1 (as audited by an inspectorate); common practice',
  ],
  'emergency-calls': [
    'While the line is unplugged no emergency call goes over it.',
    'common practice, no source',
  ],
  'off-test': [
    'A test time that runs out by itself brings a dispatch, or leaves nobody listening.',
    'ANSI/SIA CP-01-2019; monitoring practice',
  ],
  waste: [
    'A spent lead-acid battery is hazardous waste, and its bare terminals still start a fire.',
    '40 CFR 273.2 and 49 CFR 173.159(a); Regulation (EU) 2023/1542',
  ],
} as const satisfies Record<string, readonly [string, string]>;

export type CautionId = keyof typeof CAUTIONS;

/** Cautions by name, in the order asked for. */
export function cautions(...ids: CautionId[]): Caution[] {
  return ids.map((id) => ({ id, text: CAUTIONS[id][0], source: CAUTIONS[id][1] }));
}
