import type { GaugeResponse, Quantity, SenderResponse } from '../../response';
import { kelvinFromCelsius, unitChange } from '../../units';

/** One end of a range: a temperature in degC, or a part of the dial's scale (0 empty or no pressure, 1 full). */
type End = { readonly at: number; readonly ohm: number };

/** A range of senders that are sold, told by its two ends. */
export type MarketFamily = { readonly quantity: Quantity; readonly low: End; readonly high: End };

const across = (quantity: Quantity, lowOhm: number, highOhm: number): MarketFamily => ({
  quantity,
  low: { at: 0, ohm: lowOhm },
  high: { at: 1, ohm: highOhm },
});

const between = (lowCelsius: number, lowOhm: number, highCelsius: number, highOhm: number): MarketFamily => ({
  quantity: 'temperature',
  low: { at: lowCelsius, ohm: lowOhm },
  high: { at: highCelsius, ohm: highOhm },
});

/** Empty and full, ohm. Common practice, no source. */
const LEVELS: readonly (readonly [emptyOhm: number, fullOhm: number])[] = [
  [0, 90],
  [90, 0],
  [73, 10],
  [240, 33],
  [0, 30],
  [16, 158],
  [10, 180],
  [180, 10],
  [0, 190],
  [110, 3],
  [0, 280],
  [40, 250],
  [500, 100],
  [0, 70],
];

/** No pressure and full scale, ohm. Common practice, no source. */
const PRESSURES: readonly (readonly [zeroOhm: number, fullOhm: number])[] = [
  [10, 180],
  [240, 33],
  [0, 90],
  [73, 10],
];

/**
 * Temperature senders. 450 and 29.5 ohm at 100 and 250 degF, 675 and 55 ohm at 75 and 212 degF: makers' own sheets, to
 * 10 %. The others: common practice, no source.
 */
const TEMPERATURES: readonly MarketFamily[] = [
  between(37.8, 450, 121.1, 29.5),
  between(23.9, 675, 100, 55),
  between(37.8, 1305, 126.7, 49.5),
  between(50, 320.5, 130, 36.1),
  between(24, 300, 90, 26),
  between(20, 2500, 100, 180),
  between(60, 135, 100, 160),
];

const FAMILIES: readonly MarketFamily[] = [
  ...LEVELS.map(([empty, full]) => across('fuel', empty, full)),
  ...PRESSURES.map(([zero, full]) => across('pressure', zero, full)),
  ...TEMPERATURES,
];

/** A sender is followed this far beyond the two points it is told by, K. */
const BEYOND_KELVIN = 20;
/** How far one part may be from its range: a usual tolerance of 10 %, rectangular. Common practice, no source. */
const PART_UNCERTAINTY = 0.1 / Math.sqrt(3);

/** The ends of the printed scale; of what the needle does where no marks are known. */
const scaleOf = ({
  marks = [],
  lowestReading,
  highestReading,
}: GaugeResponse): { readonly from: number; readonly to: number } => {
  const readings = marks.map(({ reading }) => reading);
  return readings.length > 1
    ? { from: Math.min(...readings), to: Math.max(...readings) }
    : { from: lowestReading, to: highestReading };
};

/** Straight between its ends; over a scale in its own unit. Source: definition of a straight wound slider. */
const straight = ({ low, high }: MarketFamily, gauge: GaugeResponse): SenderResponse => {
  const { quantity, unit } = gauge;
  const { from, to } = scaleOf(gauge);
  const perUnit = (high.ohm - low.ohm) / (to - from);
  return {
    ...{ quantity, unit, knownFrom: from, knownTo: to },
    ohm: (value) => low.ohm + perUnit * (value - from),
    value: (ohm) => from + (ohm - low.ohm) / perUnit,
    relativeUncertainty: () => PART_UNCERTAINTY,
  };
};

/** The B law through both points: ln R straight in 1/T. Source: IEC 60539-1, the B-value. */
const thermistor = ({ low, high }: MarketFamily): SenderResponse => {
  const inverse = (celsius: number): number => 1 / kelvinFromCelsius(celsius);
  const beta = Math.log(low.ohm / high.ohm) / (inverse(low.at) - inverse(high.at));
  return {
    ...{ quantity: 'temperature', unit: 'degC' },
    ...{ knownFrom: low.at - BEYOND_KELVIN, knownTo: high.at + BEYOND_KELVIN },
    ohm: (celsius) => low.ohm * Math.exp(beta * (inverse(celsius) - inverse(low.at))),
    value: (ohm) => 1 / (inverse(low.at) + Math.log(ohm / low.ohm) / beta) - kelvinFromCelsius(0),
    relativeUncertainty: () => PART_UNCERTAINTY,
  };
};

/** What the ends of a range are in the gauge's own unit. */
const endsIn = (family: MarketFamily, gauge: GaugeResponse): MarketFamily | undefined => {
  const { from, to } = scaleOf(gauge);
  const placed = (at: (end: End) => number): MarketFamily => ({
    ...family,
    low: { at: at(family.low), ohm: family.low.ohm },
    high: { at: at(family.high), ohm: family.high.ohm },
  });
  if (family.quantity !== 'temperature') return placed(({ at }) => from + at * (to - from));
  const change = unitChange('degC', gauge.unit);
  return change.kind === 'refused' ? undefined : placed(({ at }) => at * change.factor + change.offset);
};

/**
 * The ranges in circulation for what a gauge shows, as senders, with their ends in the gauge's own unit. None for a
 * gauge of another quantity or of a temperature in a unit that is not known.
 * Source: the lists above; a level and a pressure are taken straight between their ends.
 */
export const marketSenders = (
  gauge: GaugeResponse,
): readonly { readonly family: MarketFamily; readonly sender: SenderResponse }[] =>
  FAMILIES.filter(({ quantity }) => quantity === gauge.quantity).flatMap((each) => {
    const family = endsIn(each, gauge);
    if (family === undefined) return [];
    return [{ family, sender: each.quantity === 'temperature' ? thermistor(each) : straight(each, gauge) }];
  });
