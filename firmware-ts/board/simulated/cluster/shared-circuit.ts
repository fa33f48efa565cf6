import type { Source } from '../gauges/laws';

/** Ohms that all gauges of a cluster have in common, and what of it the boxes can see. */
export type CommonOhms = {
  /** Between the stabiliser and the gauges: its contact, the feed wire, a tired connector. */
  feedOhm: number;
  /** Between the gauges' ground, where the GROUND clips sit, and battery negative. */
  groundOhm: number;
  /** The boxes' BATTERY - leads lie on the bench's negative; otherwise on the cluster's ground, where they see nothing. */
  isBatteryLeadOnBench: boolean;
};

/** Of a winding: how much of it is copper, how warm a watt makes it, and how soon. */
export type Winding = {
  readonly copperPart: number;
  readonly kelvinPerWatt: number;
  readonly lagMs: number;
};

/** Copper's resistance a kelvin. Source: IEC 60028, 0.00393 at 20 degC, from memory. */
const COPPER_PER_KELVIN = 0.00393;
/** Ohms of a winding that is warmer by so many kelvin. */
const warmOhm = (coldOhm: number, winding: Winding | undefined, kelvin: number): number =>
  coldOhm * (1 + COPPER_PER_KELVIN * (winding?.copperPart ?? 0) * kelvin);

/** Goes to its fixed point by a tenth at least each time: the winding's warmth changes its watts by little. */
const SETTLING_ROUNDS = 40;

/** Ampere through a winding and a sender in series once the winding is as warm as that makes it. */
export const settledAmp = (volt: number, coldOhm: number, winding: Winding, senderOhm: number): number => {
  let amp = volt / (coldOhm + senderOhm);
  for (let round = 0; round < SETTLING_ROUNDS; round += 1)
    amp = volt / (warmOhm(coldOhm, winding, amp * amp * coldOhm * winding.kelvinPerWatt) + senderOhm);
  return amp;
};

const NOTHING_SEEN = { liftVolt: 0 };

/** One gauge's place in the shared circuit. */
export type CircuitPlace = {
  /** The gauge's own source as its sender terminal shows it with the neighbours as they are now. */
  seen(own: Source): Source;
  /** What the neighbours and the gauge itself lift the common ground by, as the BATTERY - lead sees it. */
  lift(feedVolt: number): { readonly liftVolt: number };
  /** The gauge's whole branch from feed to ground from now on, ohm; Infinity while its output is open. */
  draws(senderOhm: number, own: Source): void;
  /** Lets the winding warm or cool by a stretch of the needle's time. */
  warm(watt: number, elapsedMs: number): void;
};

/**
 * Gauges of two terminals side by side between one feed and one ground, each in series with its box. All pulses of the
 * one stabiliser meet them at the same moment, so while it is on the common ohms R carry V G / (1 + R G), G the sum of
 * the branches' conductances. One gauge sees the others as a source of V / (1 + R G') behind R / (1 + R G'), G' without
 * itself. Source: Thevenin, Kirchhoff; held to ngspice in tests/vectors/cluster-circuit-ngspice.json.
 */
export class SharedCircuit {
  readonly common: CommonOhms = { feedOhm: 0, groundOhm: 0, isBatteryLeadOnBench: true };
  readonly #siemens: number[] = [];

  /** A further gauge. */
  join(winding?: Winding): CircuitPlace {
    const index = this.#siemens.push(0) - 1;
    let warmerKelvin = 0;
    const heated = ({ openVolt, sourceOhm }: Source): Source => ({
      openVolt,
      sourceOhm: warmOhm(sourceOhm, winding, warmerKelvin),
    });
    return {
      seen: (own) => {
        const { openVolt, sourceOhm } = heated(own);
        const commonOhm = this.common.feedOhm + this.common.groundOhm;
        const part = 1 / (1 + commonOhm * this.#othersSiemens(index));
        return { openVolt: openVolt * part, sourceOhm: sourceOhm + commonOhm * part };
      },
      lift: (feedVolt) => {
        const { feedOhm, groundOhm, isBatteryLeadOnBench } = this.common;
        if (!isBatteryLeadOnBench) return NOTHING_SEEN;
        const siemens = this.#othersSiemens(-1);
        return { liftVolt: (groundOhm * feedVolt * siemens) / (1 + (feedOhm + groundOhm) * siemens) };
      },
      draws: (senderOhm, own) => {
        this.#siemens[index] = Number.isFinite(senderOhm) ? 1 / (heated(own).sourceOhm + senderOhm) : 0;
      },
      warm: (watt, elapsedMs) => {
        if (winding === undefined) return;
        const restKelvin = watt * winding.kelvinPerWatt;
        warmerKelvin = restKelvin + (warmerKelvin - restKelvin) * Math.exp(-elapsedMs / winding.lagMs);
      },
    };
  }

  #othersSiemens(index: number): number {
    let sum = 0;
    for (let each = 0; each < this.#siemens.length; each += 1)
      if (each !== index) sum += this.#siemens[each]!;
    return sum;
  }
}
