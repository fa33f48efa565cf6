/** A word of the house and what it means: trade and standard words first, our own where the trade has none. */
type Word = readonly [word: string, meaning: string];

const words: readonly Word[] = [
  ['as found, as left', 'how the vehicle read before the work, and after it'],
  ['battery', 'what the volts come from; at the gauge it is the supply'],
  ['box', 'the switchable resistance that stands in for the sender'],
  ['dial, mark, scale', 'the printed face, one line of it, and all of it from end to end'],
  ['gauge, needle', 'the instrument in the dash, and its pointer'],
  ['hysteresis', 'how far up and down differ at one resistance'],
  ['proof', 'readings in the vehicle that show it is right as it is left'],
  ['rising, falling (going up, going down)', 'which way the needle was moving when it was read'],
  ['seek', 'walk the needle onto a mark by changing the resistance'],
  ['sender', 'the part in the tank, block or head whose resistance tells the gauge'],
  ['series, shunt', 'a resistor in the lead, and one from the lead to ground'],
  ['stabiliser', 'the part that feeds old gauges a steady, often pulsing, voltage'],
  ['stop', 'where the needle rests at an end, low or high'],
  ['sweep', 'one resistance after another, the needle read at each'],
  ['trim, network', 'fitting resistors so that the gauge tells the truth; those resistors'],
  ['\u00b1', 'how far off at most, with 95 % confidence'],
];

/** Words that no label, sentence or help text has any more, and what is said instead. */
const discarded: readonly (readonly [pattern: RegExp, instead: string])[] = [
  [/\bpass(ed)? over\b/i, 'skip'],
  [/\bis fed\b|\bfed by\b/i, 'gets, is powered'],
  [/\byes, it is so\b/i, 'yes'],
  [/\bon the sheet\b/i, 'save, in the job'],
  [/\bsure to\b|\bhow sure\b/i, '\u00b1'],
  [/\+-/, '\u00b1'],
  [/\bseries-(gauge|sender)-side resistor\b/i, 'resistor in the lead, on the gauge or sender side'],
  [/\bthe feed heats\b/i, 'effective volts'],
  [/\brms\b/i, 'typically'],
  [/\bp (> ?)?[0$]/, 'chance, in %'],
  [/\bthe legs\b|, legs\b|\bLegs?\b/, 'up and down, going'],
  // Kelvin of a thermistor's Beta stay: that is no difference of two temperatures.
  [/(?<!(Beta|B ?25|betaKelvin|beta2585Kelvin).*)[\d}] K\b/, 'degC for a difference of temperature'],
];

/** What the texts are held to. */
export const wordList = { words, discarded };
