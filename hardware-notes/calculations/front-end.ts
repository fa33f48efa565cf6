import { partNamed, valueOf } from '../../firmware-ts/board/netlist';
import { converter, path, type MeterChannelName } from '../../firmware-ts/board/reference-design';

/** How near to its supplies a rail-to-rail amplifier comes with 10 kohm of load; typical, from memory. */
const OUTPUT_SWING_VOLT = 0.05;

/** The resistors of the analogue front end as drawn, by what they do; the values stand in the netlist. */
export const frontEnd = {
  dividers: {
    terminal: { upperOhm: valueOf('R20'), lowerOhm: valueOf('R21') },
    supply: { upperOhm: valueOf('R22'), lowerOhm: valueOf('R23') },
    groundSense: { upperOhm: valueOf('R24'), lowerOhm: valueOf('R25') },
    groundOffset: { upperOhm: valueOf('R26'), lowerOhm: valueOf('R27') },
  },
  currentAmplifier: { inputOhm: valueOf('R30'), feedbackOhm: valueOf('R32') },
  referenceAmplifier: { inputOhm: valueOf('R34'), feedbackOhm: valueOf('R36') },
  trip: {
    upperOhm: valueOf('R38'),
    middleOhm: valueOf('R39'),
    innerOhm: valueOf('R43'),
    lowerOhm: valueOf('R40'),
    slowOhm: valueOf('R46'),
    slowMicrofarad: valueOf('C24') * 1e6,
  },
  source: {
    upperOhm: valueOf('R94'),
    lowerOhm: valueOf('R95'),
    lowReferenceOhm: valueOf('R17'),
    highReferenceOhm: valueOf('R18'),
  },
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
  /** From 5 VA down to BIAS, then from BIAS down to common. */
  readonly ohms: readonly [number, number, number, number, number, number];
  readonly shuntOhm: number;
  readonly gain: number;
  /** Zero of the current amplifier, volt. */
  readonly zeroVolt: number;
};

export const nominalTripParts: TripParts = {
  analogueVolt: 4.96,
  biasVolt: frontEnd.biasVolt,
  ohms: [valueOf('R38'), valueOf('R39'), valueOf('R43'), valueOf('R44'), valueOf('R45'), valueOf('R40')],
  shuntOhm: path.shunt.milliohm / 1000,
  gain: frontEnd.currentAmplifier.feedbackOhm / frontEnd.currentAmplifier.inputOhm,
  zeroVolt: 0,
};

export type Both = readonly [forward: number, reverse: number];

/** The currents at which each pair of comparators trips for good, mA; reverse ones as positive numbers. */
export function tripMilliamp(parts: TripParts): { readonly atOnce: Both; readonly slow: Both } {
  const { analogueVolt, biasVolt, ohms, zeroVolt } = parts;
  const [top, upper, innerUpper, innerLower, lower, foot] = ohms;
  const upperSpan = (analogueVolt - biasVolt) / (top + upper + innerUpper);
  const lowerSpan = biasVolt / (innerLower + lower + foot);
  const voltPerAmp = parts.shuntOhm * parts.gain;
  const both = (above: number, below: number): Both => [
    (1000 * (above - zeroVolt)) / voltPerAmp,
    (1000 * (below + zeroVolt)) / voltPerAmp,
  ];
  return {
    atOnce: both(upperSpan * (upper + innerUpper), lowerSpan * (innerLower + lower)),
    slow: both(upperSpan * innerUpper, lowerSpan * innerLower),
  };
}

/** Largest zero of the current amplifier that its resistors' tolerance leaves, volt. Source: BIAS through both dividers. */
export function currentZeroVolt(): number {
  const { inputOhm, feedbackOhm } = frontEnd.currentAmplifier;
  const tolerance = partNamed('R30').tolerance;
  return (frontEnd.biasVolt * 4 * tolerance * feedbackOhm) / (inputOhm + feedbackOhm);
}

/** How far apart the resistors of one good network drift, as a part per kelvin; typical, from memory. */
const TRACKING_PER_KELVIN = 5e-6;

/** Drift of the current channel's zero, microamp per kelvin, when all four resistors drift the worst way. */
export function zeroDriftMicroampPerKelvin(): number {
  const { inputOhm, feedbackOhm } = frontEnd.currentAmplifier;
  const volt = (frontEnd.biasVolt * 2 * TRACKING_PER_KELVIN * feedbackOhm) / (inputOhm + feedbackOhm);
  return (1e6 * volt) / (nominalTripParts.shuntOhm * nominalTripParts.gain);
}

/** What the current channel reads for certain either way, A: converter or amplifier, whichever ends first. */
export function currentRangeAmp(lowestAnalogueVolt: number): number {
  const voltPerAmp = nominalTripParts.shuntOhm * nominalTripParts.gain;
  const swing = Math.min(
    converter.fullScaleMicrovolt / 1e6,
    lowestAnalogueVolt - OUTPUT_SWING_VOLT - frontEnd.biasVolt,
    frontEnd.biasVolt - OUTPUT_SWING_VOLT,
  );
  return swing / voltPerAmp;
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
