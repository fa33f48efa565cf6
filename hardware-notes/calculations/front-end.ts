import { converter, path, type MeterChannelName } from '../../firmware-ts/board/reference-design';

/**
 * The resistors of the analogue front end as drawn. The laws the firmware uses (scale and offset of each channel) must
 * follow from these; a test holds them together.
 */
export const frontEnd = {
  dividers: {
    terminal: { upperOhm: 10e6, lowerOhm: 1e6 },
    supply: { upperOhm: 10e6, lowerOhm: 1e6 },
    groundSense: { upperOhm: 1e6, lowerOhm: 1e6 },
    groundOffset: { upperOhm: 1e6, lowerOhm: 1e6 },
  },
  currentAmplifier: { inputOhm: 10e3, feedbackOhm: 100e3 },
  referenceAmplifier: { inputOhm: 100e3, feedbackOhm: 100e3 },
  trip: { upperOhm: 1e3, middleOhm: 8060, lowerOhm: 1e3 },
  source: { upperOhm: 10e3, lowerOhm: 90.9e3, lowReferenceOhm: 1000, highReferenceOhm: 52.3 },
  biasVolt: converter.fullScaleMicrovolt / 1e6,
} as const;

export type Law = { readonly scale: number; readonly offset: number };

/**
 * Quantity (microvolt, or microamp for the current) from the reading against bias, from the parts alone.
 * Source: a divider that ends on bias gives (V - Vb) * lower / (upper + lower) against bias; a difference amplifier
 * gives V * feedback / input.
 */
export function lawFromParts(channel: MeterChannelName): Law {
  switch (channel) {
    case 'current': {
      const { inputOhm, feedbackOhm } = frontEnd.currentAmplifier;
      return { scale: inputOhm / feedbackOhm / (path.shunt.milliohm / 1000), offset: 0 };
    }
    case 'reference': {
      const { inputOhm, feedbackOhm } = frontEnd.referenceAmplifier;
      return { scale: inputOhm / feedbackOhm, offset: 0 };
    }
    case 'terminal':
    case 'supply':
    case 'groundSense':
    case 'groundOffset': {
      const { upperOhm, lowerOhm } = frontEnd.dividers[channel];
      return { scale: (upperOhm + lowerOhm) / lowerOhm, offset: frontEnd.biasVolt * 1e6 };
    }
  }
}

export type TripParts = {
  readonly analogueVolt: number;
  readonly biasVolt: number;
  readonly upperOhm: number;
  readonly middleOhm: number;
  readonly lowerOhm: number;
  readonly shuntOhm: number;
  readonly gain: number;
};

export const nominalTripParts: TripParts = {
  analogueVolt: 4.96,
  biasVolt: frontEnd.biasVolt,
  ...frontEnd.trip,
  shuntOhm: path.shunt.milliohm / 1000,
  gain: frontEnd.currentAmplifier.feedbackOhm / frontEnd.currentAmplifier.inputOhm,
};

/** The two currents at which the hardware trip fires, mA; the second is the reverse one, as a positive number. */
export function tripMilliamp(parts: TripParts): readonly [forward: number, reverse: number] {
  const total = parts.upperOhm + parts.middleOhm + parts.lowerOhm;
  const highVolt = (parts.analogueVolt * (parts.middleOhm + parts.lowerOhm)) / total;
  const lowVolt = (parts.analogueVolt * parts.lowerOhm) / total;
  const voltPerAmp = parts.shuntOhm * parts.gain;
  return [
    (1000 * (highVolt - parts.biasVolt)) / voltPerAmp,
    (1000 * (parts.biasVolt - lowVolt)) / voltPerAmp,
  ];
}

/** Current of the ohmmeter's source, mA, and its reference resistance, ohm. */
export function sourceFromParts(range: 'low' | 'high'): {
  readonly milliamp: number;
  readonly referenceOhm: number;
} {
  const { upperOhm, lowerOhm, lowReferenceOhm, highReferenceOhm } = frontEnd.source;
  const volt = (nominalTripParts.analogueVolt * upperOhm) / (upperOhm + lowerOhm);
  const both = (lowReferenceOhm * highReferenceOhm) / (lowReferenceOhm + highReferenceOhm);
  const referenceOhm = range === 'low' ? lowReferenceOhm : both;
  return { milliamp: (1000 * volt) / referenceOhm, referenceOhm };
}
