import type { ReferenceKind } from '../core/proof/reference-kinds';

export const REFERENCE_WORDS: Readonly<Record<ReferenceKind, string>> = {
  'flow-probe': 'A probe in the flow',
  soak: 'A night\u2019s soak',
  infrared: 'An infrared thermometer',
  'scan-tool': 'A scan tool\u2019s value',
  thermostat: 'The stamp of the thermostat',
  pump: 'The litres of a pump',
  'master-gauge': 'A master gauge',
  other: 'Another reference',
};

/** Why a reference may be wrong where nobody looks: asked once, before the first pair. Common practice, no source. */
export const REFERENCE_TRAPS: Readonly<Record<ReferenceKind, string>> = {
  'flow-probe':
    'Is its tip 20 of its own diameters deep in moving coolant, and at the sender\u2019s own place?',
  soak: 'Did the vehicle stand all night, out of the sun? Sender, block and air agree then, and only cold.',
  infrared:
    'Tape or matt paint at the sender\u2019s own place? Bare metal at 90 degC shows 43 to 53, and even paint reads a little low.',
  'scan-tool':
    'It is another sender in another place, filtered, in whole degrees. Does the thermostat part the two?',
  thermostat: 'It says what should be. It is a hint, no proof.',
  pump: 'Is the start level known, the ground level, and did the nozzle stop early on froth?',
  'master-gauge': 'Is a snubber in its line, and are both read within 2 seconds?',
  other: 'Where is it, and why should it agree with the sender\u2019s place?',
};
