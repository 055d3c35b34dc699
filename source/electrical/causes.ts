/**
 * The stable names of what can be behind a reading that does not fit. Diagnosis answers with them, the
 * rehearsal's faults are named by them, and scripts rely on them.
 */
export const CAUSES = {
  'resistor-still-in': 'a resistor is still in the loop',
  'resistor-at-detector': 'another resistor sits out at the detector',
  'resistor-value-differs': 'the resistor has another value than surveyed',
  'resistors-in-series': 'two resistors stand in series',
  'resistors-in-parallel': 'two resistors stand in parallel',
  'resistor-missing': 'the resistor is not in the loop',
  'contact-stuck-open': 'a contact stays open',
  'contact-bridged': 'a contact is bridged or stays closed',
  'relay-unpowered': 'a powered detector has dropped its relay',
  'other-pair': 'this is the pair of another zone: labels are swapped',
  'joined-other-way': 'the detectors are joined the other way than surveyed',
  'hidden-detector': 'there is a contact on this loop that the survey does not know',
  'cable-cut': 'the cable is cut or a conductor is loose',
  'cable-shorted': 'the cable is shorted',
  'corroded-splice': 'a corroded splice or terminal adds resistance',
  'damp-cable': 'damp lets current leak between the conductors',
  'length-differs': 'the cable is longer or shorter than surveyed',
  'conductor-differs': 'the conductor is of another size or metal than surveyed',
  'meter-leads': 'the meter leads were not zeroed or make poor contact',
  'foreign-voltage': 'a voltage stands on the conductor',
  'induced-voltage': 'a voltage is induced from a cable nearby',
  'battery-connected': 'a standby battery is still connected',
  'sounder-feeds-back': 'the sounder feeds its own battery back',
  'ringing-voltage': 'the telephone line is still connected',
  'probes-swapped': 'the probes are the other way round',
  'adapter-gives-ac': 'the adapter gives AC',
  'adapter-gives-nothing': 'the adapter is not plugged in, or gives nothing',
  'adapter-reversed': 'the adapter has its polarity reversed',
  'adapter-voltage-differs': 'the adapter gives another voltage than it should',
  'aux-reversed': 'positive and negative are swapped at a detector',
  'weak-battery': 'the battery does not hold its voltage under load',
  'under-voltage': 'too little voltage arrives at the end of the cable',
  'wrong-input': 'the pair is landed on another input',
  'common-loose': 'a common is loose',
  'sounder-overload': 'the sounder draws more than its output gives',
} as const;

export type Cause = keyof typeof CAUSES;
