/**
 * The box's circuit as the drawings and tables of hardware-notes show it, written down once more by hand: this world must
 * not share what the firmware believes. Whoever changes the circuit changes the drawing, the firmware's data and this.
 */
export const circuit = {
  /** Ladder as printed, ohm, R1 first (parts list). */
  elementOhm: [1, 1.87, 3.48, 6.34, 11.8, 21.5, 40.2, 73.2, 137, 255, 464, 866, 1580, 2940],
  limiterOhm: 47,
  shuntOhm: 0.5,
  fuseOhm: 0.35,
  /** Two poles in parallel across each element; K16 has one. */
  contactOhm: 0.025,
  /** SENDER and GROUND lead with clip. */
  leadOhm: 0.03,
  /** Fuse in the GROUND lead. */
  groundFuseOhm: 0.05,
  /** What the suppressors at the SENDER terminal and the CAL + post take together; 50 nA each is allowed. */
  leakAmp: 40e-9,
  /** Divider of the terminal: 10 Mohm and the sleeve's 10 kohm over 1 Mohm to bias; of the ground leads 1 Mohm over 1 Mohm. */
  senseOhm: 10.01e6,
  groundSenseOhm: 1.01e6,
  dividerFootOhm: 1e6,
  biasVolt: 2.5,
  /** Difference amplifier of the shunt, gain 4.02: volt at the converter for an ampere. */
  currentVoltPerAmp: 2.01,
  /** Zero of that amplifier before calibration, ampere; of its dividers, a part of their ratio. */
  currentZeroAmp: 0.0025,
  terminalRatioError: 0.006,
  /** Hardware trip, either way: a short at once, an over-current behind a low-pass (820 kohm, 1 uF). */
  trip: { atOnceAmp: 1, slowAmp: 0.4, slowMs: 820 },
  /** One-shot, ms: 604 kohm, 1 uF. */
  oneShotMs: 272,
  /** How much longer the chain's coils are held than K16's, ms: 27 kohm, 1 uF. */
  chainHoldMs: 12,
  /** Half the mean of both coil supplies at the analogue pin, of 3.3 V full scale in 4096 steps. */
  railCounts: Math.round((2.5 / 3.3) * 4096),
  /** Ohmmeter: volt across the reference in use, reference ohm by range, highest volt at the post. */
  source: { volt: 0.5, lowOhm: 1000, highOhm: 49.7, complianceVolt: 3.6 },
} as const;

/** Contact times with the coil clamp, ms (table "relays" of circuit.md). */
export const relayTimes = {
  chain: { operate: [0.5, 4], release: [0.3, 5], bounce: 3 },
  output: { operate: [1, 8], release: [0.5, 6], bounce: 3 },
} as const;

/** GPIO numbers (pins.md). */
export const pins = {
  firstElement: 2,
  limiter: 16,
  output: 17,
  pulse: 18,
  trip: 19,
  ready: 22,
  sourceLow: 26,
  sourceHigh: 27,
} as const;

/** Channel of the analogue converter that GP28 is. */
export const RAIL_CHANNEL = 2;

export const ELEMENT_COUNT = circuit.elementOhm.length;
