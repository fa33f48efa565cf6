import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import type { Body, World } from './world';
import { beadOhm, feltWith, settled } from './world';

const steady = (volt: number) => ({ volt, onSecond: 1, offSecond: 0 });

type Original = {
  readonly name: string;
  readonly world: Omit<World, 'body'>;
  readonly body: Omit<Body, 'wattPerKelvin'>;
};

/**
 * Six gauges with the sender they were made for. Circuits and resistances are those of the trade (thermal with 10 V and
 * 5 V of heat, two coils on the battery, a pull-up); every figure is invented within them.
 */
export const originals: readonly Original[] = [
  {
    name: 'heater of 58 ohm on 10 V',
    world: { feed: steady(10), gauge: { feedOhm: 58 }, feels: 'heat' },
    body: { ohmAt100: 40, electronvolt: 0.32, secondsToFollow: 12 },
  },
  {
    name: 'heater of 58 ohm on a stabiliser that chops 14 V',
    world: { feed: { volt: 14, onSecond: 1, offSecond: 1 }, gauge: { feedOhm: 58 }, feels: 'heat' },
    body: { ohmAt100: 46, electronvolt: 0.33, secondsToFollow: 15 },
  },
  {
    name: 'heater of 20 ohm on 5 V',
    world: { feed: steady(5), gauge: { feedOhm: 20 }, feels: 'heat' },
    body: { ohmAt100: 25, electronvolt: 0.31, secondsToFollow: 8 },
  },
  {
    name: 'two coils of 70 ohm on 13.8 V',
    world: { feed: steady(13.8), gauge: { feedOhm: 70, groundOhm: 70 }, feels: 'ratio' },
    body: { ohmAt100: 52.8, electronvolt: 0.346, secondsToFollow: 20 },
  },
  {
    name: 'two coils of 80 and 160 ohm on 13.8 V',
    world: { feed: steady(13.8), gauge: { feedOhm: 80, groundOhm: 160 }, feels: 'ratio' },
    body: { ohmAt100: 73, electronvolt: 0.307, secondsToFollow: 20 },
  },
  {
    name: 'coil of 75 ohm on a steady 9 V',
    world: { feed: steady(9), gauge: { feedOhm: 75 }, feels: 'heat' },
    body: { ohmAt100: 36, electronvolt: 0.335, secondsToFollow: 25 },
  },
];

export const worldOf = (original: Original, wattPerKelvin: number): World => ({
  ...original.world,
  body: { ...original.body, wattPerKelvin },
});

const FROM_CELSIUS = 40;
const TO_CELSIUS = 120;
const EVERY_CELSIUS = 2;

/** Index of the last mark whose `felt` lies before `here`, in the direction in which the needle rises. */
const lastBefore = (felt: readonly number[], here: number): number => {
  const sign = Math.sign(felt.at(-1)! - felt[0]!);
  let [low, high] = [-1, felt.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (sign * (felt[middle]! - here) < 0) low = middle;
    else high = middle;
  }
  return low;
};

/**
 * The dial of a matched original: printed so that in the car, at working current, it tells the truth. `reading` is what
 * a sweep with a resistance box sees on it, for a box does not warm.
 */
export const dialOf = (world: World): GaugeResponse => {
  const count = (TO_CELSIUS - FROM_CELSIUS) / EVERY_CELSIUS + 1;
  const marks = Array.from({ length: count }, (_, index) => {
    const celsius = FROM_CELSIUS + EVERY_CELSIUS * index;
    return { ...settled(world, celsius), celsius };
  });
  const felts = marks.map((mark) => mark.felt);
  const reading = (ohm: number): number => {
    const here = feltWith(world, Math.min(1e7, Math.max(1e-3, ohm)));
    const before = lastBefore(felts, here);
    if (before < 0) return FROM_CELSIUS;
    if (before === count - 1) return TO_CELSIUS;
    const [low, high] = [marks[before]!, marks[before + 1]!];
    return low.celsius + (EVERY_CELSIUS * (here - low.felt)) / (high.felt - low.felt);
  };
  return {
    quantity: 'temperature',
    unit: 'degC',
    measuredFromOhm: marks.at(-1)!.ohm,
    measuredToOhm: marks[0]!.ohm,
    lowestReading: FROM_CELSIUS,
    highestReading: TO_CELSIUS,
    risesWithResistance: false,
    plateaus: [],
    reading,
    readingUncertainty: () => 0.3,
  };
};

/** The same sender as a bath and an ohmmeter give it: without heat of its own. */
export const bathSender = (body: Omit<Body, 'wattPerKelvin'>): SenderResponse => {
  const cold: Body = { ...body, wattPerKelvin: 1 };
  return {
    quantity: 'temperature',
    unit: 'degC',
    knownFrom: 20,
    knownTo: 125,
    ohm: (celsius) => beadOhm(cold, celsius),
    value: () => NaN,
    relativeUncertainty: () => 0.004,
  };
};

/** Volts and ohms behind the sender terminal, by two loads, as a person with a meter finds them; heat volts where pulsed. */
export const leadOf = ({
  feed,
  gauge,
}: Omit<World, 'body'>): { readonly volt: number; readonly ohm: number } => {
  const heatVolt = feed.volt * Math.sqrt(feed.onSecond / (feed.onSecond + feed.offSecond));
  const ground = gauge.groundOhm ?? Infinity;
  const open = ground === Infinity ? heatVolt : (heatVolt * ground) / (gauge.feedOhm + ground);
  const shortAmp = heatVolt / gauge.feedOhm;
  return { volt: open, ohm: open / shortAmp };
};
