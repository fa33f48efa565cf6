/** Refusals of a calibration of the box. What the box keeps is told with each. */
export const calibrationRefusals = {
  CALIBRATION_STOPPED: { status: 422, says: () => 'Stopped by hand.', remedy: '' },
  CALIBRATION_IMPLAUSIBLE: {
    status: 422,
    says: ({ objections }: { readonly objections: readonly string[] }) => `${objections.join('; ')}.`,
    remedy: '',
  },
  CALIBRATION_NOT_REPEATED: {
    status: 422,
    says: ({
      name,
      beforeOhm,
      afterOhm,
    }: {
      readonly name: string;
      readonly beforeOhm: number;
      readonly afterOhm: number;
    }) =>
      `${name} was ${beforeOhm.toFixed(3)} ohm, and is ${afterOhm.toFixed(3)} ohm after the clips were fitted again: a clip or a contact is bad.`,
    remedy: 'Scrape the jaws bright and begin again.',
  },
  CALIBRATION_NOT_STORED: {
    status: 422,
    says: ({ keeps }: { readonly keeps: string }) => `The table did not reach the box. ${keeps}`,
    remedy: 'Calibrate again.',
  },
  CALIBRATION_READ_BACK: {
    status: 422,
    says: ({ name, ohm }: { readonly name: string; readonly ohm: number }) =>
      `${name} reads back as ${ohm} ohm, not as it was measured.`,
    remedy: 'Calibrate again. If it repeats, do not trust the box.',
  },
  CALIBRATION_OTHER_BOX: {
    status: 422,
    says: ({ elementCount, knownCount }: { readonly elementCount: number; readonly knownCount: number }) =>
      `This box has ${elementCount} elements or no self-calibration. This program knows the chain of ${knownCount}.`,
    remedy: 'Update the older of the two.',
  },
  STANDARD_DISAGREES: {
    status: 422,
    says: ({
      standardOhm,
      measuredOhm,
      milliamp,
      deviationPercent,
      limitPercent,
    }: {
      readonly standardOhm: number;
      readonly measuredOhm: number;
      readonly milliamp: number;
      readonly deviationPercent: number;
      readonly limitPercent: number;
    }) =>
      `The outside standard of ${standardOhm} ohm reads ${measuredOhm.toFixed(3)} ohm at ${milliamp} mA (${deviationPercent.toFixed(2)} %); at most ${limitPercent} % is sound.`,
    remedy:
      'Check that its value is typed right, the clips and sense wires, then the reference resistors R17 and R18 and the divider.',
  },
} as const;
