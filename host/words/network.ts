import type {
  Assumed,
  CircuitCase,
  DangerSays,
  DashOrBattery,
  FailedNeedle,
  Place,
  PowerBasis,
  RuleSays,
  SearchedValues,
  Topology,
} from '../core/network';
import type { Quantity } from '../core/response';
import type { OffScale } from '../core/dial';
import type { Hidden } from '../core/network';
import type { Notation } from './notation';

/** Where a resistor sits, as one points at it. */
export const placeWords: Readonly<Record<Place, string>> = {
  series: 'in the sender lead',
  shunt: 'from the sender lead to ground',
  'series-gauge-side': 'in the lead, on the gauge side',
  'series-sender-side': 'in the lead, on the sender side',
  'across-gauge': 'across the gauge',
};

/** A resistor by its place: "the 180 ohm in the sender lead". */
export const partWords = (
  { place, resistanceOhm }: { readonly place: Place; readonly resistanceOhm: number },
  say: Notation,
): string => `${say.part(resistanceOhm)} ${placeWords[place]}`;

/** The arrangement in a few words. */
export const topologyWords: Readonly<Record<Topology, string>> = {
  none: 'no network',
  series: 'one resistor in series',
  shunt: 'one resistor to ground',
  'shunt-then-series': 'shunt at the sender, then series',
  'series-then-shunt': 'series at the sender, then shunt',
  'three-resistor': 'three resistors',
  'gauge-shunt': 'resistor across the gauge',
};

/** How the parts are wired, for a person with a soldering iron. */
export const wiringWords: Readonly<Record<Topology, string>> = {
  none: 'Sender straight to the gauge.',
  series: 'One resistor in the sender lead.',
  shunt: 'One resistor from the sender lead to ground.',
  'shunt-then-series':
    'Shunt from the sender lead to ground. Series resistor between that joint and the gauge.',
  'series-then-shunt':
    'Series resistor in the sender lead. Shunt to ground from the end that faces the gauge.',
  'three-resistor':
    'From the sender: series resistor, joint with the shunt to ground, series resistor, gauge.',
  'gauge-shunt':
    "Resistor across the gauge's two terminals. The series resistor, if there is one, in the sender lead.",
};

/** "below C, on the low stop". A bare number has its unit. */
export function offScaleWords({ side, isOnStop, endMark }: OffScale, unit: string, say: Notation): string {
  const stop = `on the ${side} stop`;
  if (endMark === undefined) return isOnStop ? stop : `off the ${side} end of the scale`;
  const isNumber = endMark.trim() !== '' && Number.isFinite(Number(endMark));
  const mark = isNumber ? say.of(Number(endMark), unit) : endMark;
  return `${side === 'low' ? 'below' : 'above'} ${mark}${isOnStop ? `, ${stop}` : ''}`;
}

/** What the needle does: "reads up to 12 degC low at 100 degC". */
export function needleWords(needle: FailedNeedle, unit: string, say: Notation): string {
  switch (needle.does) {
    case 'stays': {
      const at =
        typeof needle.at === 'number'
          ? `near ${say.short(needle.at, unit)}`
          : offScaleWords(needle.at, unit, say);
      return `stays ${at}, whatever the sender does`;
    }
    case 'misreads':
      return `reads up to ${say.lowOrHigh(needle.error, unit)}, at ${say.short(needle.atValue, unit)}`;
    case 'leaves-scale':
      return `goes ${offScaleWords(needle.to, unit, say)}, at ${say.short(needle.atValue, unit)}`;
  }
}

/** What a failed part hides from the driver; nothing to add where it is not known. */
export const hiddenWords: Readonly<Record<Hidden, string>> = {
  overheating: 'hides overheating',
  'no-pressure': 'shows pressure that is not there',
  'empty-tank': 'shows fuel that is not there',
  unknown: 'misleads',
};

/** "must not read more than 8 degC low from 98.8 degC up". */
export function ruleWords(rule: RuleSays, unit: string, say: Notation): string {
  if (rule.side === 'either') return 'may err either way';
  const limit = `must not read more than ${say.lowOrHigh(rule.side === 'low' ? -rule.limit : rule.limit, unit)}`;
  if (rule.side === 'low') return `${limit} from ${say.of(rule.from, unit)} up`;
  return rule.upTo === undefined ? limit : `${limit} up to ${say.of(rule.upTo, unit)}`;
}

/** "an error to the low side from 98.8 degC up counts double". */
export function dangerWords(danger: DangerSays, unit: string, say: Notation): string {
  const { side, weight } = danger;
  const where =
    danger.side === 'low' ? `from ${say.of(danger.from, unit)} up` : `up to ${say.of(danger.upTo, unit)}`;
  return `an error to the ${side} side ${where} counts ${weight === 2 ? 'double' : `${weight} times`}`;
}

/** "E24, 1 to 10000 ohm". */
export const searchedWords = (values: SearchedValues, say: Notation): string =>
  'series' in values
    ? `${values.series}, ${say.ohms(values.lowestOhm, values.highestOhm)}`
    : `${values.atHandCount} values at hand`;

/** "sender shorted, 16 V". */
export function circuitWords({ supplyVolt, sender }: CircuitCase, say: Notation): string {
  const does = sender === 'short' ? 'shorted' : sender === 'open' ? 'open' : `at ${say.ohm(sender)}`;
  return `sender ${does}, ${supplyVolt} V`;
}

/** The figures of a reckoning that nobody gave. */
export function assumedWords(basis: PowerBasis, say: Notation): readonly string[] {
  const words: Readonly<Record<Assumed, string>> = {
    supply: `a supply of ${basis.supplyVolt} V`,
    'highest-supply': `${basis.highestSupplyVolt} V at worst`,
    'gauge-ohm': `a gauge of ${say.ohm(basis.gaugeOhm)}`,
  };
  return basis.assumed.map((each) => words[each]);
}

/** "dash at 60 degC", "battery at 11 V", "0.5 ohm more in the sender lead". */
export function surroundingsWords(other: DashOrBattery, say: Notation): string {
  if ('leadOhm' in other) return `${say.ohm(other.leadOhm)} more in the sender lead`;
  return 'dashCelsius' in other
    ? `dash at ${say.of(other.dashCelsius, 'degC')}`
    : `battery at ${other.batteryVolt} V`;
}

/** Where the sender sits, under its name in a drawing. */
export const senderPlaceWords: Readonly<Record<Quantity, string | undefined>> = {
  temperature: 'on the engine',
  pressure: 'on the engine',
  fuel: 'in the tank',
  other: undefined,
};
