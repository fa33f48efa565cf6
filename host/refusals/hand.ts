type Fixed = { readonly seriesOhm: number; readonly seriesWatt: number };

const FIGURES = 3;
const ohm = (value: number): string => `${Number(value.toPrecision(FIGURES))} ohm`;
const milliamp = (value: number): string => `${Math.round(value)} mA`;

const fixedWords = (fixed: Fixed | undefined): string =>
  fixed === undefined
    ? 'Use a potentiometer of more watts.'
    : `Put a fixed ${ohm(fixed.seriesOhm)}, ${fixed.seriesWatt} W or more, in series with it and leave it there, or use a potentiometer of fewer ohms or more watts.`;

/** Refusals of work without a box: nothing opens by itself in a person's hand. */
export const handRefusals = {
  NOT_BY_HAND: {
    status: 422,
    says: () => 'The box makes the resistances of this sweep.',
    remedy: 'Finish it first, then begin one by hand.',
  },
  HAND_TOO_FEW: {
    status: 422,
    says: ({
      count,
      fromOhm,
      toOhm,
    }: {
      readonly count: number;
      readonly fromOhm: number;
      readonly toOhm: number;
    }) =>
      `These parts make ${count === 0 ? 'no setting' : `only ${count} settings`} between ${ohm(fromOhm)} and ${ohm(toOhm)} that they can bear; a curve needs 3.`,
    remedy: 'Add resistors in that range, or of more watts; or use a potentiometer.',
  },
  HAND_NO_HIGH_START: {
    status: 422,
    says: () =>
      'Nobody knows which sender belongs to this gauge, so the first resistance is 1000 ohm or more, and these parts do not make that.',
    remedy: 'Add a resistor of 1 kohm to 2 kohm, or say which sender it has.',
  },
  HAND_TRACK_TOO_WEAK: {
    status: 422,
    says: (found: {
      readonly milliamp: number;
      readonly trackMilliamp: number;
      readonly isTrack: boolean;
      readonly fixed?: Fixed;
    }) =>
      found.isTrack
        ? `Turned down, ${milliamp(found.milliamp)} may flow. The track bears ${milliamp(found.trackMilliamp)} at every place, and no more than 70 % of that is asked of it. ${fixedWords(found.fixed)}`
        : `Turned down, ${milliamp(found.milliamp)} may flow: too much for the fixed resistor. ${fixedWords(found.fixed)}`,
    remedy: '',
  },
  HAND_FIXED_TOO_SMALL: {
    status: 422,
    says: ({
      seriesOhm,
      leastOhm,
      ...fixed
    }: Fixed & { readonly leastOhm: number; readonly ratingWatt?: number }) =>
      `The fixed resistor before the potentiometer must be ${ohm(leastOhm)} or more, the least that a sender of this family has${seriesOhm < leastOhm ? `; it is ${ohm(seriesOhm)}` : `: ${ohm(seriesOhm)}, ${fixed.seriesWatt} W or more, would do`}.`,
    remedy: 'By hand nothing opens by itself.',
  },
  HAND_TRACK_TOO_SHORT: {
    status: 422,
    says: ({ wholeOhm }: { readonly wholeOhm: number }) =>
      `Nobody knows which sender belongs to this gauge, so it begins at 1000 ohm or more; the whole potentiometer has ${ohm(wholeOhm)}.`,
    remedy: 'Use a larger one, or say which sender it has.',
  },
  HAND_TOO_LOW: {
    status: 422,
    says: ({
      resistanceOhm,
      leastOhm,
      isKnown,
    }: {
      readonly resistanceOhm: number;
      readonly leastOhm: number;
      readonly isKnown: boolean;
    }) =>
      isKnown
        ? `${ohm(resistanceOhm)} is less than ${ohm(leastOhm)}, the least that a sender of this family has. By hand nothing opens by itself: less needs the box.`
        : `${ohm(resistanceOhm)} is too far down at once: nobody knows this gauge, so not below ${ohm(leastOhm)} now.`,
    remedy: 'Leave it off the wire.',
  },
  HAND_OTHER_OHMS: {
    status: 422,
    says: ({
      resistanceOhm,
      fromOhm,
      toOhm,
      isKnown,
    }: {
      readonly resistanceOhm: number;
      readonly fromOhm: number;
      readonly toOhm: number;
      readonly isKnown: boolean;
    }) =>
      `${ohm(resistanceOhm)} is not what was asked for: ${ohm(fromOhm)} to ${ohm(toOhm)}.${isKnown ? ' If it is on all the same, confirm that (in the terminal: on, then the ohms).' : ''}`,
    remedy: 'Measure it again, or skip this step.',
  },
  HAND_OHMS_FIRST: {
    status: 422,
    says: () => 'What the ohmmeter shows of it comes first.',
    remedy: 'Measure it before it is put on.',
  },
  HAND_NOT_OF_TRACK: {
    status: 422,
    says: ({
      resistanceOhm,
      seriesOhm,
      wholeOhm,
    }: {
      readonly resistanceOhm: number;
      readonly seriesOhm: number;
      readonly wholeOhm: number;
    }) => `${ohm(resistanceOhm)} cannot be ${ohm(wholeOhm)} of track with ${ohm(seriesOhm)} fixed before it.`,
    remedy: 'Measure across both together, off the wire.',
  },
} as const;
