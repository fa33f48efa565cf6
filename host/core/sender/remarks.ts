type Bare = Readonly<Record<string, never>>;

/** Codes of this folder's remarks and their figures. Values in `unit`, that of the sender. */
export type SenderRemarks = {
  /** `between`: two measured temperatures; without it, from 25 to 85 degC. */
  readonly SENDER_BETA_IMPLAUSIBLE: {
    readonly betaKelvin: number;
    readonly lowestKelvin: number;
    readonly highestKelvin: number;
    readonly between?: readonly [fromCelsius: number, toCelsius: number];
  };
  readonly SENDER_SPAN_SHORT: { readonly spanCelsius: number };
  readonly SENDER_BETA_EXTRAPOLATED: Bare;
  readonly SENDER_MISFIT: Bare;
  readonly SENDER_UNCERTAINTY_ASSUMED: Bare;
  readonly SENDER_RISES_WITH_TEMPERATURE: Bare;
  readonly SENDER_STRAIGHT_ASSUMED: Bare;
  readonly SENDER_POINT_QUESTIONED: {
    readonly pointNumber: number;
    readonly resistanceOhm: number;
    readonly value: number;
    readonly unit: string;
    readonly residual: number;
    readonly residualUnit: string;
  };
  readonly SENDER_FLAT_STRETCH: {
    readonly resistanceOhm: number;
    readonly from: number;
    readonly to: number;
    readonly unit: string;
  };
};

/** Why a law was chosen: it was asked for, or what the points show and what else was tried. Misses in degC or `unit`. */
export type SenderReason =
  | { readonly why: 'asked-for' }
  | {
      readonly why: 'fits' | 'least-bad';
      readonly shows?: 'rises-with-temperature' | 'falls-with-temperature' | 'two-temperatures';
      readonly temperatureCount: number;
      readonly rejected: readonly RejectedLaw[];
    };

export type RejectedLaw = {
  readonly model: string;
  /** By how much it misses the points; left out where it could not be fitted at all. */
  readonly missesBy?: number;
};
