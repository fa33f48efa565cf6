import type { GaugeFamily } from '../diagnosis/family';

/** A vehicle as it was built and as it has aged: ohm, volt, ampere. */
export type Vehicle = {
  readonly family: GaugeFamily;
  readonly battery: { readonly emf: number; readonly ohm: number };
  /** The battery's positive post is on the body: node 0 is that post, and every volt has the other sign. */
  readonly isPositiveGround: boolean;
  readonly feedOhm: number;
  /** Everything else on the ignition feed, as one resistance. */
  readonly othersOhm: number;
  readonly stabiliser: {
    readonly contact: 'works' | 'never' | 'always';
    readonly heatVolt: number;
    readonly groundOhm: number;
  };
  /** First coil, heater or pull-up; second coil; turns left of each; mechanical ratio of the crossed coils. */
  readonly firstOhm: number;
  readonly secondOhm: number;
  readonly firstTurns: number;
  readonly secondTurns: number;
  readonly crossing: number;
  readonly madeForEnds: number;
  readonly isDead: boolean;
  readonly lag: number;
  readonly offset: number;
  readonly gain: number;
  readonly flat: readonly [number, number] | undefined;
  readonly caseOhm: number;
  readonly bodyStrapOhm: number;
  readonly engineStrapOhm: number;
  readonly lampAmp: number;
  readonly quietAmp: number;
  readonly engineAmp: { readonly quiet: number; readonly loaded: number };
  readonly wireOhm: number;
  readonly chafeOhm: number;
  readonly hexOhm: number;
  readonly senderRatio: number;
  readonly senderSlope: number;
  readonly isReversed: boolean;
  readonly stuckOhm: number | undefined;
  readonly hasDropouts: boolean;
  readonly otherGauge: boolean;
  readonly otherSenderRatio: number | undefined;
  /** Chance that other gauges on the same feed or ground are seen to be wrong. */
  readonly othersWrong: number;
  /** Chance that a joint makes and breaks while somebody moves it. */
  readonly looseJoint: number;
  /** Where the needle should stand in the state it is in, and with the engine hot: the truth. */
  readonly coolPlace: number;
  readonly warmPlace: number;
};
