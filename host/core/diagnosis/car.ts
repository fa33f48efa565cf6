/** One vehicle of the cloud: every part with what it is, sound or not. Ohm, volt and ampere; `factor` over its usual value. */
export type Car = {
  readonly batteryVolt: number;
  /** Battery to the gauge's feed, and everything else that it feeds, as one resistance. */
  readonly feedOhm: number;
  readonly othersOhm: number;
  readonly stabiliser: 'works' | 'open' | 'closed';
  readonly stabiliserFactor: number;
  readonly stabiliserGroundOhm: number;
  readonly gaugeFactor: number;
  readonly operatingFactor: number;
  /** What is left of the turns of each coil (or of the heater), which pull or heat. */
  readonly gaugeTurns: number;
  readonly operatingTurns: number;
  /** Ends of the scale that the gauge was made for, over those of its family. */
  readonly endsFactor: number;
  /** An electronic gauge of which the needle is dead, and one that gives its sender no volts. */
  readonly isDead: boolean;
  readonly isMute: boolean;
  /** Half of what the needle lags, and its shift, as parts of the scale; the shift of a sound one is its making. */
  readonly lag: number;
  readonly shift: number;
  readonly stretch: number;
  /** Parts of the scale over which an electronic gauge holds its needle still. */
  readonly flat: { readonly from: number; readonly to: number } | undefined;
  readonly wireOhm: number;
  readonly leakOhm: number;
  readonly sender: {
    readonly factor: number;
    readonly slope: number;
    readonly isReversed: boolean;
    readonly fixedOhm: number | undefined;
    readonly isWorn: boolean;
  };
  readonly hexOhm: number;
  readonly strapOhm: number;
  /** Through the engine's strap with everything off, and with loads on. */
  readonly strapAmpOff: number;
  readonly strapAmpOn: number;
  /** The gauge's own ground wire, and what it shares with the lamps. */
  readonly caseOhm: number;
  readonly sharedGroundOhm: number;
  readonly lampAmp: number;
  readonly quietAmp: number;
  readonly hasSecondGauge: boolean;
  readonly hasSecondSender: boolean;
  /** Ohms of the second sender over the first's. */
  readonly secondFactor: number;
  /** How far the reference was wrong, as parts of the scale, cool and warm. */
  readonly coolError: number;
  readonly warmError: number;
  /** Which way the needle came, -1 to 1. */
  readonly approach: number;
};

/**
 * The same vehicle with some of it changed. Every field stands here, so that all vehicles have one shape: a cloud makes
 * tens of thousands of them, and copies of unlike shapes take ten times as long.
 */
export const changed = (car: Car, change: Partial<Car>): Car => ({
  batteryVolt: change.batteryVolt ?? car.batteryVolt,
  feedOhm: change.feedOhm ?? car.feedOhm,
  othersOhm: change.othersOhm ?? car.othersOhm,
  stabiliser: change.stabiliser ?? car.stabiliser,
  stabiliserFactor: change.stabiliserFactor ?? car.stabiliserFactor,
  stabiliserGroundOhm: change.stabiliserGroundOhm ?? car.stabiliserGroundOhm,
  gaugeFactor: change.gaugeFactor ?? car.gaugeFactor,
  operatingFactor: change.operatingFactor ?? car.operatingFactor,
  gaugeTurns: change.gaugeTurns ?? car.gaugeTurns,
  operatingTurns: change.operatingTurns ?? car.operatingTurns,
  endsFactor: change.endsFactor ?? car.endsFactor,
  isDead: change.isDead ?? car.isDead,
  isMute: change.isMute ?? car.isMute,
  lag: change.lag ?? car.lag,
  shift: change.shift ?? car.shift,
  stretch: change.stretch ?? car.stretch,
  flat: change.flat ?? car.flat,
  wireOhm: change.wireOhm ?? car.wireOhm,
  leakOhm: change.leakOhm ?? car.leakOhm,
  sender: change.sender ?? car.sender,
  hexOhm: change.hexOhm ?? car.hexOhm,
  strapOhm: change.strapOhm ?? car.strapOhm,
  strapAmpOff: change.strapAmpOff ?? car.strapAmpOff,
  strapAmpOn: change.strapAmpOn ?? car.strapAmpOn,
  caseOhm: change.caseOhm ?? car.caseOhm,
  sharedGroundOhm: change.sharedGroundOhm ?? car.sharedGroundOhm,
  lampAmp: change.lampAmp ?? car.lampAmp,
  quietAmp: change.quietAmp ?? car.quietAmp,
  hasSecondGauge: change.hasSecondGauge ?? car.hasSecondGauge,
  hasSecondSender: change.hasSecondSender ?? car.hasSecondSender,
  secondFactor: change.secondFactor ?? car.secondFactor,
  coolError: change.coolError ?? car.coolError,
  warmError: change.warmError ?? car.warmError,
  approach: change.approach ?? car.approach,
});
