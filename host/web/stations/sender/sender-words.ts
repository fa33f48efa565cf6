import type { JobState } from '../../../job/state/state';

/** How the true value beside a sender is come by, in the words of what the sender measures. */
export type SenderWords = {
  /** What to do with it before the box starts to measure. */
  readonly start: string;
  /** "... now", when a point may be taken. */
  readonly look: string;
  readonly tooFast: string;
  /** What a point is, in one sentence. */
  readonly asks: string;
  /** Over the field of the true value, while the box measures and when both are typed. */
  readonly label: string;
  /** Under the fields, when both are typed. */
  readonly hint: string;
};

const temperature: SenderWords = {
  start: 'Start near the boil and let it cool.',
  look: 'read the thermometer',
  tooFast: 'It moves too fast to be read. Stir, or wait.',
  asks: 'What do thermometer and ohmmeter show?',
  label: 'The thermometer shows',
  hint: 'Stir, wait until both meters stand still, read the thermometer beside the sender.',
};

const pressure: SenderWords = {
  start: 'Pump up from nothing and let it down again, and stop on the way.',
  look: 'read the master gauge',
  tooFast: 'It moves too fast to be read. Hold the pressure, or wait.',
  asks: 'What do master gauge and ohmmeter show?',
  label: 'The master gauge shows',
  hint: 'Pump to a pressure and shut it in, wait until both stand still, read the master gauge at the same tee.',
};

const other: SenderWords = {
  start: 'Go from one end to the other, and stop on the way.',
  look: 'give the true value',
  tooFast: 'It moves too fast to be read. Wait.',
  asks: 'What is true, and what does the ohmmeter show?',
  label: 'The true value',
  hint: 'Wait until both stand still, then give the true value.',
};

const VOLUMES = /^(l|litres?|(us |imp )?gal|m3)$/i;

/** A tank in the vehicle stays closed and is filled by known litres; a sender on the bench has its float lifted. */
const fuel = ({ place }: Pick<JobState, 'place'>, unit: string): SenderWords => {
  const isVolume = VOLUMES.test(unit);
  const what = isVolume ? 'what is in the tank' : 'the level';
  const label = isVolume ? 'In the tank' : 'Level';
  const asks = `${isVolume ? 'What is in the tank' : 'How high is it'}, and what does the ohmmeter show?`;
  if (place === 'car') {
    return {
      start: 'From empty to full by known litres; engine and ignition off while fuel is put in.',
      look: `give ${what}`,
      tooFast: 'It moves too fast to be read. Let the fuel come to rest.',
      asks,
      label,
      hint: `Put known litres in, let the fuel come to rest, level ground, then give ${what}.`,
    };
  }
  return {
    start: 'Lift the float from its low stop to its high stop, and hold it still on the way.',
    look: `give ${what}`,
    tooFast: 'It moves too fast to be read. Hold the float still.',
    asks,
    label,
    hint: `Lift the float to a known height and hold it, wait until the ohms stand still, then give ${what} at that height.`,
  };
};

/** The words for a sender's true value; `unit`: the sender's own. */
export const senderWords = (state: Pick<JobState, 'gauge' | 'place'>, unit: string): SenderWords => {
  switch (state.gauge.quantity) {
    case 'temperature':
      return temperature;
    case 'pressure':
      return pressure;
    case 'fuel':
      return fuel(state, unit);
    case 'other':
      return other;
  }
};

/** Where a true value for the needle comes from, as found. */
export const REFERENCE_WORDS: Readonly<Record<JobState['gauge']['quantity'], string>> = {
  temperature: 'By a thermometer you trust. Leave empty if not known.',
  fuel: 'By litres at a pump, or a dipstick. Leave empty if not known.',
  pressure: 'By a master gauge at the same tee. Leave empty if not known.',
  other: 'By something you trust. Leave empty if not known.',
};
