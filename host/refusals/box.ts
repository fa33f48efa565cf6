const PLUG_IN = 'Plug it in and wait until it answers.';

const ROLL_CALL_SAID = {
  none: (serial: number) => `No needle moved with box ${serial}.`,
  several: (serial: number) =>
    `Several needles moved with box ${serial}: the gauges disturb each other, or leads are crossed.`,
  'not-sure': (serial: number) => `Nobody could say which needle moved with box ${serial}.`,
} as const;

/** Refusals of what is asked of the box: by a sweep, by its ohmmeter, by its meter. */
export const boxRefusals = {
  BOX_NOT_LIVE: {
    status: 422,
    says: ({ why }: { readonly why?: string }) =>
      why === undefined ? 'No box answers.' : `No box answers: ${why}.`,
    remedy: PLUG_IN,
  },
  BOX_BUSY: {
    status: 422,
    says: ({ title }: { readonly title: string }) => `The box is driving another job, "${title}".`,
    remedy: 'Pause that sweep first.',
  },
  WHICH_BOX: {
    status: 422,
    says: ({ serials }: { readonly serials: readonly number[] }) =>
      `Several boxes are plugged in (${serials.map((each) => `number ${each}`).join(', ')}), and nobody has said which one is on this gauge.`,
    remedy: 'Say which one: its number is on its label. Or open a cluster.',
  },
  BOX_NOT_HERE: {
    status: 422,
    says: ({ serial }: { readonly serial: number }) => `Box ${serial} does not answer.`,
    remedy: PLUG_IN,
  },
  BOX_SERIAL_TWICE: {
    status: 422,
    says: ({ serial }: { readonly serial: number }) =>
      `Two boxes are plugged in that both call themselves number ${serial}; none of the two is driven.`,
    remedy: 'Unplug one of them.',
  },
  BOX_GIVEN_AWAY: {
    status: 422,
    says: ({ serial, title }: { readonly serial: number; readonly title: string }) =>
      `Box ${serial} is on another gauge, "${title}".`,
    remedy: 'Take it off there first.',
  },
  CLUSTER_BOXES: {
    status: 422,
    says: ({ gauges, boxes }: { readonly gauges: number; readonly boxes: number }) =>
      `This cluster has ${gauges} gauges, and ${boxes === 1 ? 'one box answers' : `${boxes} boxes answer`}.`,
    remedy: 'Plug in one box a gauge, or sweep by hand, one gauge after the other.',
  },
  CLUSTER_AT_WORK: {
    status: 422,
    says: ({ title, by }: { readonly title: string; readonly by: string }) =>
      `"${title}" is being worked on already, by ${by}.`,
    remedy: 'Wait until that is over, take over there, or press STOP.',
  },
  CLUSTER_FAILED: {
    status: 500,
    says: ({ why }: { readonly why: string }) => `What was done with the gauges broke off (${why}).`,
    remedy: 'Every output was opened. Start it again.',
  },
  CLUSTER_NOT_ASKED: {
    status: 422,
    says: () => 'That is not asked at this moment.',
    remedy: 'Look at the sheet: it may have gone on meanwhile.',
  },
  FITS_OTHER_NEEDLE: {
    status: 422,
    says: ({ place, other }: { readonly place: string; readonly other: string }) =>
      `That is far from where the needle at "${place}" is expected, and fits the one at "${other}".`,
    remedy: 'Say which of the two was read.',
  },
  ROLL_CALL_FIRST: {
    status: 422,
    says: ({ place }: { readonly place: string }) =>
      `Nobody has said which box is on the gauge at "${place}".`,
    remedy: 'Call the roll first.',
  },
  ROLL_CALL_TWICE: {
    status: 422,
    says: ({ place, serials }: { readonly place: string; readonly serials: readonly number[] }) =>
      `Boxes ${serials.join(' and ')} both moved the needle at "${place}": two boxes are on one gauge.`,
    remedy: 'Put each on a gauge of its own, then call the roll again.',
  },
  ROLL_CALL_UNCLEAR: {
    status: 422,
    says: ({
      boxSerial,
      said,
    }: {
      readonly boxSerial: number;
      readonly said: 'none' | 'several' | 'not-sure';
    }) => ROLL_CALL_SAID[said](boxSerial),
    remedy: 'Look at its clips, then call the roll again.',
  },
  BOX_CANNOT_MEASURE: {
    status: 422,
    says: ({ what }: { readonly what: string }) => `The box cannot measure "${what}".`,
    remedy: 'Measure it with a meter and type it in.',
  },
  NOT_MEASURED: {
    status: 422,
    says: ({ what }: { readonly what: 'open-circuit' | 'heat' | 'ground-offset' }) => NOT_MEASURED[what],
    remedy: '',
  },
  NO_CURRENT: {
    status: 422,
    says: () => 'No current flows through the box.',
    remedy: 'Is the ignition on, and are both clips on?',
  },
  TRIPPED: {
    status: 422,
    says: () => 'The box has tripped.',
    remedy: 'Find the cause, then clear the trip.',
  },
  NO_TRIP: { status: 422, says: () => 'The box has not tripped.', remedy: 'Nothing has to be cleared.' },
  TEST_CURRENT: {
    status: 422,
    says: ({
      microamp,
      lowestMicroamp,
      highestMicroamp,
    }: {
      readonly microamp: number;
      readonly lowestMicroamp: number;
      readonly highestMicroamp: number;
    }) => `${microamp} uA: the ohmmeter takes ${lowestMicroamp} to ${highestMicroamp} uA.`,
    remedy: 'Choose a current within that.',
  },
  MEASURE_GONE: {
    status: 422,
    says: () => 'The box no longer has that measurement.',
    remedy: 'Type what the thermometer shows now.',
  },
  CALLED_OFF: { status: 422, says: () => 'The check was called off.', remedy: 'Start it again.' },
  HEATING_NOT_HERE: {
    status: 422,
    says: () =>
      'Only a temperature sender shows its own heat. A sender of a tank never gets the large current.',
    remedy: '',
  },
  HEATING_TOO_COLD: {
    status: 422,
    says: ({ senderOhm, highestOhm }: { readonly senderOhm: number; readonly highestOhm: number }) =>
      `The sender has ${senderOhm.toFixed(0)} ohm, and the large current reaches ${highestOhm} ohm.`,
    remedy: 'Use a warmer bath.',
  },
  BOX_MAKES_NOTHING: {
    status: 422,
    says: () => 'The output of the box is open, so no needle stands by it.',
    remedy: 'Let a sweep bring it to these ohms, or take a resistor of known ohms.',
  },
  BOX_MAKES_OTHER_OHMS: {
    status: 422,
    says: ({ makes, given }: { readonly makes: string; readonly given: string }) =>
      `The box makes ${makes} ohm, not ${given} ohm.`,
    remedy: 'Give what it makes.',
  },
} as const;

const NOT_MEASURED = {
  'open-circuit': 'The output has not been open yet. Open it and measure again.',
  heat: 'The box has not seen enough pulses yet. Wait half a minute and measure again.',
  'ground-offset': 'The offset probe is not connected. Clip it to battery negative and measure again.',
} as const;
