/**
 * The electrical design of one channel of the box, as data: what is soldered in, what it may bear, which pin
 * drives it. The firmware, the simulated board, the drawings and the tables of hardware-notes/ all read this
 * file; nothing about the circuit is written twice. The circuit itself is explained in hardware-notes/.
 *
 * Path of the gauge current, in order: SENDER clip, lead, fuse, output contact, series limiter, ladder
 * elements, current shunt, box common, lead, GROUND clip. Box common touches nothing else: the power input and
 * the PC's serial line are both isolated from it.
 */

/** What a resistor is made as; decides how it bears heat and short overloads. */
export type Construction = 'wirewound' | 'metal-film';

export type LadderElement = {
  readonly name: string;
  /** Value printed on the part. The firmware uses the measured value; this is only the starting point. */
  readonly nominalMilliohm: number;
  readonly tolerancePercent: number;
  /** Rating at 70 degC ambient, printed on the data sheet. */
  readonly ratedMilliwatt: number;
  readonly construction: Construction;
};

const wirewound = (name: string, nominalMilliohm: number, ratedMilliwatt: number): LadderElement => ({
  name,
  nominalMilliohm,
  tolerancePercent: 1,
  ratedMilliwatt,
  construction: 'wirewound',
});

const film = (name: string, nominalMilliohm: number, ratedMilliwatt: number): LadderElement => ({
  name,
  nominalMilliohm,
  tolerancePercent: 1,
  ratedMilliwatt,
  construction: 'metal-film',
});

/**
 * The resistor chain, smallest first; each has a relay contact across it. Values are E96; each is at most 1.88
 * times the one before, so that the sums leave no gap over 1 ohm even with every part at a corner of its 1 %.
 * Ratings: at the box's own limits (16 V, 300 mA root mean square) no element passes 75 % of its rating whatever is
 * connected, and none passes its rating at what the slow comparator lets through with no firmware at all (450 mA);
 * the four smallest are wirewound because a gauge that shorts while they carry the current gives them tens of
 * watts for the milliseconds the output contact needs.
 */
export const elements: readonly LadderElement[] = [
  wirewound('R1', 1_000, 3_000),
  wirewound('R2', 1_870, 3_000),
  wirewound('R3', 3_480, 3_000),
  wirewound('R4', 6_340, 3_000),
  wirewound('R5', 11_800, 3_000),
  wirewound('R6', 21_500, 5_000),
  wirewound('R7', 40_200, 7_000),
  wirewound('R8', 73_200, 5_000),
  wirewound('R9', 137_000, 3_000),
  film('R10', 255_000, 2_000),
  film('R11', 464_000, 1_000),
  film('R12', 866_000, 600),
  film('R13', 1_580_000, 600),
  film('R14', 2_940_000, 600),
];

/**
 * How a construction behaves. `fullPowerCelsius`/`zeroPowerCelsius`: the two ends of the straight derating
 * line, so one watt heats the part by (zero - full) / rating. `timeConstantMs` and the temperature coefficient
 * are typical values from memory, to be confirmed on the parts fitted.
 */
export const constructions = {
  wirewound: {
    fullPowerCelsius: 70,
    zeroPowerCelsius: 275,
    temperatureCoefficientPpmPerKelvin: 50,
    timeConstantMs: 40_000,
  },
  'metal-film': {
    fullPowerCelsius: 70,
    zeroPowerCelsius: 155,
    temperatureCoefficientPpmPerKelvin: 50,
    timeConstantMs: 10_000,
  },
} as const satisfies Record<Construction, Record<string, number>>;

/** Share of an element's rating the guard lets it use. The rest covers hot enclosure air and part spread. */
export const usableRatingFraction = 0.75;

/**
 * Bits of the contact mask. A set bit means the relay coil is energised.
 * Bits 0..13: contact across element R1..R14 closed, element SHORTED (out of the path).
 * Bit 14: contact across the series limiter closed, limiter BYPASSED.
 * Bit 15: output contact CLOSED.
 * All coils dead (mask 0) is therefore the safe state: output open, and behind it every resistor in series.
 * Between two masks, the open-first step is `from & to`: it never passes below the lower of the two ends.
 */
const elementsMask = 2 ** elements.length - 1;
const limiterBypassMask = 0x4000;
const outputMask = 0x8000;
export const contactBits = {
  elementsMask,
  limiterBypassMask,
  outputMask,
  /** Contacts that exist; a chain of fewer elements leaves bits of 0..13 without one. */
  allMask: elementsMask | limiterBypassMask | outputMask,
} as const;

/** Parts of the current path that are not ladder elements. */
export const path = {
  /** Series limiter: in the path until measured volts and amps prove every element inside its rating. */
  limiter: { name: 'R15', milliohm: 47_000, tolerancePercent: 5, ratedMilliwatt: 10_000 },
  /** Current shunt, two 1 ohm 1 % in parallel, read by its own Kelvin pair. */
  shunt: { name: 'R16', milliohm: 500, tolerancePercent: 1, ratedMilliwatt: 1_200 },
  /** Fast glass fuse in the SENDER lead; cold resistance typical, it is measured with the rest of the path. */
  fuse: { name: 'F1', ratedMilliamp: 500, coldMilliohm: 350, meltingAmpSquaredSecond: 0.15 },
  /** Two-way suppressor across the terminals behind the fuse; both ways, so that swapped clips draw nothing. */
  suppressor: { name: 'D1', standoffMillivolt: 33_000, clampMillivolt: 53_300, peakWatt: 1_500 },
  /** One closed contact, new and at end of life. Two poles in parallel across each element. */
  contact: { typicalMilliohm: 25, maxMilliohm: 100 },
  /** SENDER and GROUND lead with clip, each: 1.5 m of 1.5 mm2 copper is 17 mohm, the clip the rest. */
  lead: { milliohm: 30, maxMilliohm: 60 },
  /**
   * Ceramic fuse of high breaking capacity in the GROUND lead: what a feed on box common meets. A battery drives 80 A
   * through the leads, more than a glass fuse breaks. Cold resistance typical, from memory; kept low because the
   * calibration cannot measure it.
   */
  groundFuse: { name: 'F4', ratedMilliamp: 2_000, coldMilliohm: 50, maxMilliohm: 80, breakingAmp: 1_500 },
} as const;

/** GROUND lead from box common to the jaw of its clip: fuse, wire, clip. */
export const groundLead = {
  milliohm: path.lead.milliohm + path.groundFuse.coldMilliohm,
  maxMilliohm: path.lead.maxMilliohm + path.groundFuse.maxMilliohm,
} as const;

/**
 * Two-form-C signal relay, 5 V coil, gold-clad contacts, one for each element and one for the limiter.
 * Times are limits WITH the coil clamp fitted (diode and 12 V suppressor): a plain diode would make release two
 * to three times slower. Every contact is within these limits; where inside them is not known and may change
 * from one operation to the next.
 */
export const relay = {
  operateMinMs: 0.5,
  operateMaxMs: 4,
  releaseMinMs: 0.3,
  releaseMaxMs: 5,
  bounceMaxMs: 3,
  coilOhm: 178,
  coilMilliamp: 28,
  contactMaxMilliamp: 2_000,
} as const;

/** Output relay: one-form-A, 5 A 30 V DC, gold-plated contacts, 5 V 200 mW coil. Limits with the clamp fitted. */
export const outputRelay = {
  operateMinMs: 1,
  operateMaxMs: 8,
  releaseMinMs: 0.5,
  releaseMaxMs: 6,
  bounceMaxMs: 3,
  coilOhm: 125,
  coilMilliamp: 40,
  contactMaxMilliamp: 5_000,
} as const;

/** The runtime's timers may fire this much early, so every relay wait is longer by it. */
export const timerEarlyMs = 1;

/** Wait after de-energising element coils before anything may rely on the contacts being open, ms. */
export const breakStepMs = Math.ceil(relay.releaseMaxMs + 2 * timerEarlyMs);

/** Wait after energising element coils before the new resistance may be relied on, ms. */
export const makeStepMs = Math.ceil(relay.operateMaxMs + relay.bounceMaxMs + timerEarlyMs);

/** Wait after energising the output relay, ms. */
export const outputMakeMs = Math.ceil(outputRelay.operateMaxMs + outputRelay.bounceMaxMs + timerEarlyMs);

/** Wait after de-energising the output relay, ms. */
export const outputBreakMs = Math.ceil(outputRelay.releaseMaxMs + 2 * timerEarlyMs);

/**
 * Retriggerable one-shot that feeds the coil rail. It is fired by RISING EDGES of the pulse pin, so a pin stuck
 * high or low lets it run out. The main loop toggles the pin after its self-check, at least every
 * `pulsePeriodMaxMs`, never from an interrupt; so a rising edge comes at least every twice that.
 * Length = factor * R * C. The factor is that of a common CMOS one-shot at 5 V, from memory: check the sheet.
 */
export const deadMan = {
  pulsePeriodMaxMs: 50,
  timingKilohm: 604,
  timingMicrofarad: 1,
  lengthFactor: 0.45,
  minMs: 200,
  nominalMs: 272,
  maxMs: 350,
} as const;

/**
 * The coils hang on two supplies: K16 on the output supply, K1 to K15 on the chain supply. The chain supply outlives the
 * output supply by the length of a second one-shot, fired when the first runs out or is cleared, so K16 always breaks the
 * current. A reservoir feeds it while the box's own supply is gone; a supervisor clears the first one-shot as soon as that
 * supply falls below `undervoltMillivolt`. Length = factor * R * C as for the dead-man.
 * minMs, maxMs: how much later than the output supply the chain supply falls. latestMs: never later, whatever happens.
 * holdFraction: coils of this kind stay pulled in down to this part of 5 V. Typical, from memory: measured at acceptance.
 */
export const chainHold = {
  timingKilohm: 27,
  timingMicrofarad: 1,
  lengthFactor: 0.45,
  minMs: 8,
  nominalMs: 12,
  maxMs: 20,
  latestMs: 30,
  reservoirMicrofarad: 5_600,
  reservoirTolerancePercent: 20,
  undervoltMillivolt: 4_380,
  undervoltTolerancePercent: 2.5,
  holdFraction: 0.6,
} as const;

/**
 * Two comparators for each sign on the shunt, independent of the firmware: each latches, clears the one-shot and pulls
 * the trip pin low. `atOnce` ends a short. `slow` sees the current through a low-pass, so that the battery pulses of a
 * stabiliser pass and a steady over-current does not: at `milliamp` and above for good, and after
 * -timeConstant * ln(1 - threshold / current) above it.
 */
export const hardwareTrip = {
  atOnce: { milliamp: 1_000, minMilliamp: 900, maxMilliamp: 1_100, delayMaxMs: 1 },
  slow: {
    milliamp: 400,
    minMilliamp: 350,
    maxMilliamp: 450,
    timeConstantMs: 820,
    timeConstantTolerancePercent: 11,
  },
} as const;

/**
 * Two generic 24-bit delta-sigma converters on one I2C bus, AVDD 5 V, DVDD 3.3 V, one shared 2.500 V reference;
 * they convert at the same time, so volts and amps of a pulsing feed belong together. Input 3 of each carries
 * the buffered 2.500 V bias; every channel is read against it, so readings of both signs come out.
 * Commands and register bits are those of the ADS122C04. Source: its data sheet SBAS751B, map of the configuration registers
 * (inputs, mode, reference) and START; which code of DR gives 175 a second: from memory. For another chip there is
 * another driver (meter/second-converter.ts).
 */
export const converter = {
  addresses: [0x40, 0x45],
  bits: 24,
  fullScaleMicrovolt: 2_500_000,
  conversionMs: 6,
  noiseMicrovoltRms: 6,
  commands: { reset: 0x06, start: 0x08, readData: 0x10, readRegister: 0x20, writeRegister: 0x40 },
  /** Register 0 high nibble: input n against input 3. */
  inputSelect: [0x20, 0x50, 0x60],
  /** Register 1: 175 conversions a second, single shot, external reference. */
  register1: 0x62,
  /** Bit of register 2 that is set when a conversion has ended and its result was not read yet. */
  readyBit: 0x80,
} as const;

/** What the current channel reads for certain, either way: the amplifier's swing at its lowest supply. */
export const currentRangeMilliamp = 1_100;

export type MeterChannelName =
  | 'terminal'
  | 'supply'
  | 'groundSense'
  | 'current'
  | 'groundOffset'
  | 'reference';

/**
 * How a converter reading (microvolt against bias) becomes the quantity: `quantity = reading * scale + offset`.
 * Unit of the quantity: microvolt, except `current`: microamp.
 */
export type MeterChannel = {
  readonly converter: 0 | 1;
  readonly input: 0 | 1 | 2;
  readonly scale: number;
  readonly offset: number;
};

/**
 * terminal: SENDER sense wire (at the clip) to box common, 10 Mohm over 1 Mohm to bias: -25 to +30 V.
 * supply: FEED sense lead at the gauge's feed, same divider. Not clipped anywhere it reads about 2.5 V.
 * groundSense: GROUND clip's sense wire to box common, 1 Mohm over 1 Mohm: the drop of the ground lead.
 * groundOffset: BATTERY-NEGATIVE sense lead to box common, same network. Ground offset as the trade means it,
 *   ground clip above battery negative, is `groundSense - groundOffset`; the sender's true terminal voltage is
 *   `terminal - groundSense`.
 * current: 500 mohm shunt, difference amplifier of gain 4.02: 2.01 V per A. The amplifier and its 5 V allow -1.1 to
 *   +1.1 A, the converter 1.24 A. Positive = into SENDER.
 *   The self-calibration current passes the shunt too, whichever source drives it.
 * reference: drop of the ohmmeter's reference resistor in use, difference amplifier of gain 1.
 */
export const meterChannels: Record<MeterChannelName, MeterChannel> = {
  terminal: { converter: 0, input: 0, scale: 11, offset: 2_500_000 },
  supply: { converter: 0, input: 1, scale: 11, offset: 2_500_000 },
  groundSense: { converter: 0, input: 2, scale: 2, offset: 2_500_000 },
  current: { converter: 1, input: 0, scale: 1 / (0.5 * 4.02), offset: 0 },
  groundOffset: { converter: 1, input: 1, scale: 2, offset: 2_500_000 },
  reference: { converter: 1, input: 2, scale: 1, offset: 0 },
};

/** The terminal divider loads the terminals all the time, output open or closed. */
export const senseLoadMilliohm = 11_000_000_000;

/**
 * Ohmmeter: a current source holds about 0.5 V across the reference resistor in use and sends the current out of
 * the CAL post; it never reaches the SENDER clip unless the clip is put on the post. The resistance measured is
 * `referenceMilliohm * terminal / reference`, so the exact current does not matter. 500 microamp spans the whole
 * ladder; 10 mA is for low resistances and for a sender's self-heating. In a fuel tank only 500 microamp is used.
 * Pin ohmmeterLow alone: low; pin ohmmeterHigh, alone or with the other: high; both low: source off.
 * The high reference is 52.3 ohm with the 1 kohm in parallel.
 */
export const ohmmeter = {
  low: { microamp: 500, referenceMilliohm: 1_000_000, maxMilliohm: 7_000_000 },
  high: { microamp: 10_000, referenceMilliohm: 49_700, maxMilliohm: 340_000 },
  referenceTolerancePercent: 0.1,
  complianceMillivolt: 3_600,
  settleMs: 20,
} as const;

/**
 * What the box allows at most. A host may tighten these at arming, never widen them.
 * currentMaxMilliamp: root mean square. The largest met in a sound circuit is 225 mA (thermal gauge, 5 V, 12.2 ohm
 *   heater at 10 ohm); a dead short of it is 409 mA.
 * pulsePeakMaxMilliamp: what the battery pulses of a stabiliser may reach in a thermal job: 14.4 V into 12.2 ohm and
 *   10 ohm is 648 mA. Heat is judged by the root mean square.
 * guardReactionMs: worst time from a fault to the output contact open, by firmware alone, while the meter reads. A meter
 *   that falls silent is noticed after METER_SILENT_MS (guard/meter-silent.ts): that, a turn, and the contact.
 * lowResistanceFloorMilliohm / lowResistanceMaxMs: below the floor a gauge is near a dead short. 8 ohm, the lowest end of
 *   the senders in circulation, must be held; the chain comes within half a step of 1 ohm to it.
 */
export const limits = {
  currentMaxMilliamp: 300,
  pulsePeakMaxMilliamp: 800,
  supplyMinMillivolt: 9_000,
  supplyMaxMillivolt: 16_000,
  totalPowerMaxMilliwatt: 4_000,
  lowResistanceFloorMilliohm: 7_500,
  lowResistanceMaxMs: 5_000,
  resistanceMinMilliohm: 2_000,
  resistanceMaxMilliohm: 6_300_000,
  reversedMillivolt: -200,
  guardReactionMs: 50,
  railMinMillivolt: 4_600,
  railMaxMillivolt: 5_400,
} as const;

/** What this board can do, by name; the protocol gives each its bit. */
export const capabilities = [
  'ladder',
  'ohmmeter',
  'groundOffset',
  'supplySense',
  'ripple',
  'hardwareDeadMan',
  'hardwareTrip',
] as const;

/** GPIO numbers of the one-channel board (RP2040 or RP2350 on the usual 40-pin carrier). */
export const pins = {
  serialTransmit: 0,
  serialReceive: 1,
  elements: [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15],
  limiterBypass: 16,
  output: 17,
  deadManPulse: 18,
  hardwareTrip: 19,
  meterData: 20,
  meterClock: 21,
  meterReady: 22,
  ohmmeterLow: 26,
  ohmmeterHigh: 27,
  railSense: 28,
} as const;

/**
 * GPIO numbers of a four-channel bench: the relays of each channel hang on a 16-bit latching register of their own
 * (bit order = contact mask), written and read back by SPI; every channel board is isolated and has its own
 * dead-man pulse and trip line. Not built yet: the one-channel board is the reference.
 */
export const fourChannelPins = {
  serialTransmit: 0,
  serialReceive: 1,
  spiIn: 4,
  spiClock: 2,
  spiOut: 3,
  select: [5, 6, 7, 8],
  deadManPulse: [9, 10, 11, 12],
  hardwareTrip: [13, 14, 15, 16],
  meterData: 20,
  meterClock: 21,
  meterReset: 22,
} as const;

/**
 * Both coil supplies to the railSense pin, 20 k each over 10 k: the pin sees half of their mean against 3.3 V. One that
 * is stuck on, or missing, shows as half.
 */
export const railSense = { scale: 2, fullScaleMillivolt: 3_300, bits: 12 } as const;

/** The contact mask as a GPIO bank value, bits at GPIO positions (GP2..GP17). */
export function gpioFromContacts(contactMask: number): number {
  return (contactMask & contactBits.allMask) << pins.elements[0];
}

/** All relay pins as a GPIO bank mask. */
export const relayGpioMask = gpioFromContacts(contactBits.allMask);

/**
 * Sum of the elements a mask leaves in the path, from nominal values or a measured table, milliohm.
 * Limiter, contacts, fuse and leads not counted.
 */
export function ladderMilliohm(contactMask: number, tableMilliohm?: readonly number[]): number {
  let sumMilliohm = 0;
  for (let index = 0; index < elements.length; index += 1) {
    if ((contactMask >> index) & 1) continue;
    sumMilliohm += tableMilliohm?.[index] ?? elements[index]!.nominalMilliohm;
  }
  return sumMilliohm;
}

/**
 * What the terminals show when the path behind them is `pathMilliohm` (Infinity: output open): the sense divider
 * lies across it.
 */
export function loadedMilliohm(pathMilliohm: number): number {
  return senseLoadMilliohm / (1 + senseLoadMilliohm / pathMilliohm);
}

/** Converter reading (microvolt against bias) to the channel's quantity (microvolt, or microamp for current). */
export function quantityFromReading(name: MeterChannelName, readingMicrovolt: number): number {
  const channel = meterChannels[name];
  return readingMicrovolt * channel.scale + channel.offset;
}

/** The reverse: what the converter would read; the simulated board answers with it. */
export function readingFromQuantity(name: MeterChannelName, quantity: number): number {
  const channel = meterChannels[name];
  return (quantity - channel.offset) / channel.scale;
}

/** Converter code (two's complement, 24 bits) to microvolt against bias. */
export function microvoltFromCode(code: number): number {
  return (code * converter.fullScaleMicrovolt) / 2 ** (converter.bits - 1);
}

/**
 * Most power one element can meet while the guard's limits hold, milliwatt: the lesser of the current limit
 * through it and the supply limit across it (and the limiter, when that is in the path).
 * Source: P = I^2 R, I <= V / (R + Rs).
 */
export function worstElementMilliwatt(element: LadderElement, limiterIn: boolean): number {
  const elementOhm = element.nominalMilliohm / 1000;
  const seriesOhm = limiterIn ? path.limiter.milliohm / 1000 : 0;
  const supplyMilliamp = limits.supplyMaxMillivolt / (elementOhm + seriesOhm);
  const milliamp = Math.min(limits.currentMaxMilliamp, supplyMilliamp);
  return (milliamp * milliamp * elementOhm) / 1000;
}

/** What the guard lets an element dissipate for good, milliwatt. */
export function elementLimitMilliwatt(element: LadderElement): number {
  return element.ratedMilliwatt * usableRatingFraction;
}

/** Temperature rise of an element for a steady power, kelvin: the slope of its derating line. */
export function elementRiseKelvin(element: LadderElement, milliwatt: number): number {
  const kind = constructions[element.construction];
  return ((kind.zeroPowerCelsius - kind.fullPowerCelsius) * milliwatt) / element.ratedMilliwatt;
}
