export type GaugeKind = 'thermal' | 'moving-coil' | 'two-coil' | 'cross-coil' | 'electronic';

/** What is known of a kind of gauge with its sender before anything is measured. */
export type GaugeFamily = {
  readonly quantity: 'temperature' | 'fuel' | 'pressure';
  readonly kind: GaugeKind;
  /** Ohms of a good sender where the needle stands at the low and at the high end of the scale. */
  readonly lowEndOhm: number;
  readonly highEndOhm: number;
  /** Heater or coil between feed and sender wire; the limiting (or low) coil of a ratio gauge; the pull-up. */
  readonly gaugeOhm: number;
  /** Ratio gauges: the coil, or coils, from the sender wire to the gauge's own ground. */
  readonly operatingOhm: number;
  /** What heats a stabilised gauge, or the reference of an electronic one, volt. */
  readonly feedVolt: number;
  readonly isStabilised: boolean;
};

/** Common practice, no source, but the first two: 5 V, 12.2 ohm and 10 to 73 ohm from an owners' thread with figures. */
export const families = {
  'thermal-temperature': {
    ...{ quantity: 'temperature', kind: 'thermal', lowEndOhm: 320, highEndOhm: 40 },
    ...{ gaugeOhm: 58, operatingOhm: 0, feedVolt: 10, isStabilised: true },
  },
  'thermal-fuel': {
    ...{ quantity: 'fuel', kind: 'thermal', lowEndOhm: 73, highEndOhm: 10 },
    ...{ gaugeOhm: 12.2, operatingOhm: 0, feedVolt: 5, isStabilised: true },
  },
  'two-coil-fuel': {
    ...{ quantity: 'fuel', kind: 'two-coil', lowEndOhm: 2, highEndOhm: 90 },
    ...{ gaugeOhm: 90, operatingOhm: 90, feedVolt: 12.6, isStabilised: false },
  },
  'cross-coil-temperature': {
    ...{ quantity: 'temperature', kind: 'cross-coil', lowEndOhm: 450, highEndOhm: 30 },
    ...{ gaugeOhm: 100, operatingOhm: 150, feedVolt: 12.6, isStabilised: false },
  },
  'cross-coil-fuel': {
    ...{ quantity: 'fuel', kind: 'cross-coil', lowEndOhm: 240, highEndOhm: 33 },
    ...{ gaugeOhm: 100, operatingOhm: 150, feedVolt: 12.6, isStabilised: false },
  },
  'moving-coil-pressure': {
    ...{ quantity: 'pressure', kind: 'moving-coil', lowEndOhm: 240, highEndOhm: 33 },
    ...{ gaugeOhm: 100, operatingOhm: 0, feedVolt: 12.6, isStabilised: false },
  },
  'electronic-temperature': {
    ...{ quantity: 'temperature', kind: 'electronic', lowEndOhm: 1100, highEndOhm: 160 },
    ...{ gaugeOhm: 1000, operatingOhm: 0, feedVolt: 5, isStabilised: false },
  },
} as const satisfies Readonly<Record<string, GaugeFamily>>;
export type FamilyName = keyof typeof families;

const middleOhm = ({ lowEndOhm, highEndOhm }: Pick<GaugeFamily, 'lowEndOhm' | 'highEndOhm'>): number =>
  Math.sqrt(Math.max(0.5, lowEndOhm) * Math.max(0.5, highEndOhm));

/**
 * The family of a gauge of this kind whose sender has these ohms at the ends of its dial: that known one of the kind
 * whose sender lies nearest, its coils in proportion, for makers wind coils of the order of their senders.
 */
export function familyOf(
  asked: Pick<GaugeFamily, 'quantity' | 'kind' | 'lowEndOhm' | 'highEndOhm'>,
): GaugeFamily {
  const all: readonly GaugeFamily[] = Object.values(families);
  const away = (family: GaugeFamily): number => Math.abs(Math.log(middleOhm(family) / middleOhm(asked)));
  const [nearest = families['thermal-temperature']] = all
    .filter(({ kind }) => kind === asked.kind)
    .sort((one, two) => away(one) - away(two));
  const ratio = asked.kind === 'electronic' ? 1 : middleOhm(asked) / middleOhm(nearest);
  const proportion = Math.abs(Math.log(ratio)) < Math.log(SAME_COILS) ? 1 : ratio;
  return {
    ...nearest,
    ...asked,
    gaugeOhm: nearest.gaugeOhm * proportion,
    operatingOhm: nearest.operatingOhm * proportion,
  };
}

/** Senders so near to each other in ohms work the same gauge. Common practice, no source. */
const SAME_COILS = 1.6;

/** Three terminals: the gauge has a ground of its own. */
export const hasOwnGround = ({ kind }: GaugeFamily): boolean =>
  kind === 'two-coil' || kind === 'cross-coil' || kind === 'electronic';

/** Senders of fuel and pressure are tracks with a slider, those of temperature are thermistors. */
export const hasTrack = ({ quantity }: GaugeFamily): boolean => quantity !== 'temperature';

/** Never less is put on a sender wire in place of a sender. Common practice, no source. */
const LEAST_OHM: Readonly<Record<GaugeKind, number>> = {
  ...{ thermal: 8, 'moving-coil': 8, electronic: 8, 'two-coil': 1, 'cross-coil': 1 },
};

/** The known loads of the check: in the middle of the family by ratio, and its lowest usual ohms. */
export function usualLoads({ kind, lowEndOhm, highEndOhm }: GaugeFamily): {
  readonly middleOhm: number;
  readonly lowestOhm: number;
} {
  const lowestOhm = Math.max(LEAST_OHM[kind], Math.min(lowEndOhm, highEndOhm));
  const highest = Math.max(lowEndOhm, highEndOhm);
  const tidy = (ohm: number): number => Number(ohm.toPrecision(2));
  return {
    middleOhm: tidy(Math.max(Math.sqrt(lowestOhm * highest), highest / 3)),
    lowestOhm: tidy(lowestOhm),
  };
}
