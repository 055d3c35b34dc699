import type { Cause } from '../electrical/causes.ts';

/** What to do first about each cause that no measuring point tells more of. */
export const FIRST_TRIES: Readonly<Partial<Record<Cause, string>>> = {
  'induced-voltage': 'It collapses under load: note which cable runs along it, and go on.',
  'charge-left':
    'Leave the meter on: a charge falls by itself, a source stands. Wait until it stays below 0.5 V, and prove again.',
  'battery-connected': 'Follow both leads of every standby battery and take them off, negative first.',
  'sounder-feeds-back': 'Look whether the sounder has a battery of its own; isolate it at the sounder.',
  'ringing-voltage': 'Take the telephone line off at its own socket.',
  'foreign-voltage':
    'Stop. Above 50 V leave it to an electrician; below that find what feeds it, from the other end of that cable.',
  'misread-figure': 'Look at the prefix and the point on the meter; type the figure with its unit.',
  'probes-swapped': 'Red on positive, black on negative: read again.',
  'adapter-gives-nothing':
    'Look whether it is plugged in and that socket feeds anything else; put it away if it stays at nothing.',
  'adapter-gives-ac': 'Read it once on AC volts. If it gives AC, put it away and use one that gives DC.',
  'adapter-reversed':
    'Put this adapter away, or have its polarity changed, and read again before it is connected.',
  'adapter-voltage-differs': 'Read what its plate says; use one with the voltage that the board takes.',
  'aux-reversed':
    'Power off. Compare positive and negative at the detector with the labels; swap them at one end only.',
  'weak-battery': 'Charge it for a night and read again under load; replace it if it falls again.',
  'under-voltage': 'Read at the board: if it is right there, the cable takes it away.',
  'corroded-splice': 'Read along the cable, joint by joint; make the joint anew where the voltage falls.',
  'length-differs': 'Read the marks on the sheath, or pace the run; correct the survey.',
  'conductor-differs': 'Read the size off the sheath or gauge a strand; correct the survey.',
  'sounder-overload': 'Read the current of the sounder by itself; give it a relay or a supply of its own.',
  'wrong-input':
    'Work it again and look whether another input changes; compare the conductors with the plan.',
  'common-loose': 'Pull at the common of this input; tighten it.',
  'stand-in-elsewhere':
    'Count the terminals from the end of the board, put it across again and press it home.',
  'input-named-otherwise': 'Look at the receiving side for another name that changes, and mend the names.',
  'input-failed': 'Put it across the next input: if that one shows, use another input or another board.',
  'contact-stuck-open':
    'Shut every door and window of it and look again; then look at the contact and its magnet, and read the pair with the input off.',
  'contact-bridged': 'Read the pair with the contact worked: it must go open.',
  'cable-cut': 'Bridge the pair at the detector and read it at the panel.',
  'cable-shorted': 'Take the pair off at the detector and read it at the panel: it must be open.',
  'damp-cable': 'Take both ends of the pair off and read it: a dry pair is open.',
  'relay-unpowered': 'Read the volts at its terminals: if they are right, the detector has failed.',
  'hidden-detector': 'Walk the room for one more opening or device, and follow the cable.',
  'other-pair':
    'Work the detectors of the other zones and look whether this input follows; then swap the labels.',
  'joined-other-way': 'Work the other detectors of its zone and look whether this input follows.',
  'resistor-at-detector': 'Open the detector and look for a resistor at its terminals.',
  'resistor-value-differs': 'Read the colours of the resistor and correct the survey.',
  'resistor-missing': 'Look for it at the panel, then at the detectors; correct the survey.',
};
