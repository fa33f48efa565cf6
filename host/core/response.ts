/** A stretch of resistance over which the needle does not move: it cannot be inverted, only bounded. */
export type Plateau = { readonly fromOhm: number; readonly toOhm: number; readonly reading: number };

export type Quantity = 'temperature' | 'fuel' | 'pressure' | 'other';

/**
 * What the design of a network needs of a gauge: resistance seen between sender terminal and ground to reading.
 * `reading` is monotone, defined for every resistance >= 0 (0 = short, Infinity = open) and rests at a stop beyond the
 * ends of the scale.
 */
export type GaugeResponse = {
  readonly quantity: Quantity;
  /** Unit of the dial, as printed for a person: "degC", "%", "kPa". */
  readonly unit: string;
  /** Resistances between which the curve was measured; outside, `reading` is an extrapolation. */
  readonly measuredFromOhm: number;
  readonly measuredToOhm: number;
  /** Readings at the ends of the scale (the stops, or the outermost known readings). */
  readonly lowestReading: number;
  readonly highestReading: number;
  /** As printed, where the dial is known: what is off it is told by its end marks. */
  readonly marks?: readonly { readonly label: string; readonly reading: number }[];
  /** True when more resistance moves the needle upscale. */
  readonly risesWithResistance: boolean;
  readonly plateaus: readonly Plateau[];
  readonly reading: (resistanceOhm: number) => number;
  /** The same at so many times the volts of the sweep; left out where the needle does not follow them, or nobody knows how. */
  readonly readingAtFeed?: (resistanceOhm: number, voltRatio: number) => number;
  /** Standard uncertainty of `reading`, in dial units. */
  readonly readingUncertainty: (resistanceOhm: number) => number;
};

/** What the design of a network needs of a sender: true value (temperature, level, pressure) to resistance and back. */
export type SenderResponse = {
  readonly quantity: Quantity;
  readonly unit: string;
  readonly knownFrom: number;
  readonly knownTo: number;
  readonly ohm: (value: number) => number;
  readonly value: (resistanceOhm: number) => number;
  /** Relative standard uncertainty of `ohm` at a value (dimensionless). */
  readonly relativeUncertainty: (value: number) => number;
};
