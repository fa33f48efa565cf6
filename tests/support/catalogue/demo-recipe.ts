import type { Card, Statement } from '../../../host/catalogue';
import { CARD_SCHEMA, STATEMENT_SCHEMA } from '../../../host/catalogue';
import { randomSource, type RandomSource } from '../../../host/core/numeric/random';
import { specimenOf, type Maker } from './gauge-world';

/**
 * The demo catalogue: what an invented shop (Quarry Lane Instrument Works) has measured of invented vehicles. Gauges are
 * circuits with a coil or a heater (`gauge-world.ts`), senders the physics of their kind; nothing here is the program's.
 */
type Dial = {
  readonly unit: string;
  readonly labels: readonly string[];
  readonly readings: readonly number[];
};

const even = (unit: string, readings: readonly number[], labels = readings.map(String)): Dial => ({
  ...{ unit, labels, readings },
});
const CELSIUS = even('degC', [40, 60, 80, 100, 120]);
const TANK = even('%', [0, 25, 50, 75, 100], ['E', '1/4', '1/2', '3/4', 'F']);

type Model = {
  readonly name: string;
  readonly quantity: 'temperature' | 'fuel' | 'pressure';
  readonly dial: Dial;
  readonly maker: Maker;
  readonly mechanism: 'thermal' | 'two-coil' | 'moving-coil';
  readonly terminals: 2 | 3;
  readonly count: number;
  /** How much specimens differ, part of the arc. */
  readonly tau: number;
};

const LAWS = { thermal: 'heater', 'two-coil': 'two-coil', 'moving-coil': 'coil' } as const;
const model = (
  name: string,
  dial: Dial,
  mechanism: Model['mechanism'],
  [lowOhm, highOhm, coilOhm, count, tau]: readonly [number, number, number, number, number],
): Model => ({
  ...{ name, dial, mechanism, count, tau, terminals: mechanism === 'two-coil' ? 3 : 2 },
  quantity: /fuel/.test(name) ? 'fuel' : /pressure/.test(name) ? 'pressure' : 'temperature',
  maker: { law: LAWS[mechanism], lowOhm, highOhm, coilOhm },
});

const MODELS: readonly Model[] = [
  model('Harrow Six coolant gauge', CELSIUS, 'thermal', [590, 52, 62, 8, 0.012]),
  model('Harrow Six fuel gauge', TANK, 'thermal', [210, 22, 65, 6, 0.015]),
  model(
    'Harrow Six oil pressure gauge',
    even('bar', [0, 1, 2, 3, 4, 5]),
    'two-coil',
    [10, 180, 75, 5, 0.012],
  ),
  model(
    'Tern 1100 coolant gauge',
    even('degC', [40, 80, 120], ['C', 'N', 'H']),
    'two-coil',
    [300, 22, 80, 5, 0.02],
  ),
  model('Tern 1100 fuel gauge', TANK, 'two-coil', [240, 33, 90, 6, 0.012]),
  model(
    'Marrick 900 coolant gauge',
    even('degC', [40, 80, 120], ['C', 'N', 'H']),
    'two-coil',
    [450, 30, 70, 5, 0.018],
  ),
  model('Marrick 900 fuel gauge', TANK, 'two-coil', [0.5, 90, 45, 5, 0.01]),
  model(
    'Linden estate oil temperature gauge',
    even('degC', [50, 75, 100, 125, 150]),
    'thermal',
    [320, 36, 60, 4, 0.015],
  ),
  model(
    'Linden estate fuel gauge',
    even('L', [0, 10, 20, 30, 40, 50]),
    'moving-coil',
    [73, 10, 40, 5, 0.012],
  ),
  model('Dunmore 45 coolant gauge', even('degF', [100, 150, 200, 250]), 'two-coil', [700, 22, 110, 5, 0.022]),
  model(
    'Peverell coupe fuel gauge',
    even('%', [0, 50, 100], ['E', '1/2', 'F']),
    'moving-coil',
    [90, 2, 55, 4, 0.015],
  ),
  model(
    'Peverell coupe oil pressure gauge',
    even('psi', [0, 25, 50, 75, 100]),
    'two-coil',
    [240, 33, 100, 4, 0.012],
  ),
];

const SEED = 19_640_714;
const FIRST_DAY = Date.UTC(2026, 0, 12, 9);
const DAY_MS = 86_400_000;
const WHERE = ['from a breaker', 'a customer\u2019s dash', 'new old stock', 'shop spare', 'rebuilt cluster'];

const rounded = (value: number, step: number): number =>
  Number((Math.round(value / step) * step).toPrecision(6));
const threeFigures = (ohm: number): number => Number(ohm.toPrecision(4));

/** Where a place on the arc is read; the marks are evenly spaced. */
const readAt = ({ readings }: Dial, place: number): number =>
  readings[0]! + place * (readings.at(-1)! - readings[0]!);

const common = (day: number, description: string) =>
  ({
    schema: CARD_SCHEMA,
    description,
    found: 'as-found',
    measured_at: new Date(FIRST_DAY + day * DAY_MS).toISOString(),
    by: 'simulated-person',
    made_from: { program: 'demo' },
    licence: 'CC0',
    simulated: true,
    demo: true,
  }) as const;

function gaugeCard(each: Model, index: number, random: RandomSource, day: number): Card {
  const { dial, maker, quantity, mechanism, terminals, tau } = each;
  const part = specimenOf(maker, random, tau);
  const [from, to] = [
    Math.max(1, Math.min(maker.lowOhm, maker.highOhm)),
    Math.max(maker.lowOhm, maker.highOhm),
  ];
  const count = 6 + Math.floor(3 * random.uniform());
  const ohms = Array.from({ length: count }, (_, i) => threeFigures(from * (to / from) ** (i / (count - 1))));
  const step = (dial.readings.at(-1)! - dial.readings[0]!) / 250;
  const rises = maker.highOhm > maker.lowOhm;
  const walk = [...ohms, ...ohms.filter((_, i) => i % 2 === 1).reverse()];
  return {
    ...common(day, `${WHERE[(index + each.name.length) % WHERE.length]!}`),
    ...{ kind: 'gauge', quantity, unit: dial.unit, mechanism, terminals },
    marks: dial.readings.map((reading, i) => ({
      ...{ label: dial.labels[i]!, reading, angle_fraction: i / (dial.readings.length - 1) },
    })),
    family_ohm: { low_end: maker.lowOhm, high_end: maker.highOhm },
    conditions: { place: 'bench' },
    points: walk.map((ohm, i) => ({
      resistance_ohm: ohm,
      reading: rounded(readAt(dial, part.placeAt(ohm) + 0.004 * random.normal()), step),
      leg: i < ohms.length === rises ? ('up' as const) : ('down' as const),
      method: 'step' as const,
    })),
  };
}

type SenderModel = {
  readonly name: string;
  readonly quantity: 'temperature' | 'fuel' | 'pressure';
  readonly unit: string;
  readonly values: readonly number[];
  readonly ohm: (value: number) => number;
  readonly count: number;
  readonly spread: number;
  /** Of a kind that the trade knows, by nominal ohms: common practice, no source. */
  readonly isUsual?: boolean;
};

const KELVIN = 273.15;
/** Beta equation of a thermistor. Source: IEC 60539-1. */
const thermistor =
  (ohmAt25: number, betaKelvin: number) =>
  (celsius: number): number =>
    ohmAt25 * Math.exp(betaKelvin * (1 / (celsius + KELVIN) - 1 / (25 + KELVIN)));
const straight =
  (lowOhm: number, highOhm: number, top: number) =>
  (value: number): number =>
    lowOhm + ((highOhm - lowOhm) * value) / top;

const BATH = [25, 40, 55, 70, 85, 100];
const LEVELS = [0, 25, 50, 75, 100];
const heat = (name: string, ohmAt25: number, betaKelvin: number, count: number): SenderModel => ({
  ...{ name, quantity: 'temperature', unit: 'degC', values: BATH, count, spread: 0.03 },
  ohm: thermistor(ohmAt25, betaKelvin),
});
const level = (
  name: string,
  [low, high]: readonly [number, number],
  count: number,
  isUsual = false,
): SenderModel => ({
  ...{ name, quantity: 'fuel', unit: '%', values: LEVELS, count, spread: 0.02, isUsual },
  ohm: straight(low, high, 100),
});
const pressure = (
  name: string,
  [low, high, top]: readonly [number, number, number],
  count: number,
  isUsual = false,
) => ({
  ...{ name, quantity: 'pressure' as const, unit: 'kPa', count, spread: 0.025, isUsual },
  values: [0, 0.25, 0.5, 0.75, 1].map((part) => part * top),
  ohm: straight(low, high, top),
});

const SENDERS: readonly SenderModel[] = [
  heat('Harrow Six coolant sender', 1130, 3450, 6),
  heat('Tern 1100 coolant sender', 560, 3350, 5),
  heat('Marrick 900 coolant sender', 860, 3650, 5),
  heat('Dunmore 45 coolant sender', 1500, 3900, 4),
  level('Tern 1100 fuel sender', [240, 33], 6),
  level('Marrick 900 fuel sender', [1, 90], 5),
  pressure('Harrow Six oil pressure sender', [10, 180, 500], 5),
  pressure('Peverell coupe oil pressure sender', [240, 33, 690], 4),
  level('240-33 level sender, usual kind', [240, 33], 1, true),
  level('0-90 level sender, usual kind', [0, 90], 1, true),
  level('73-10 level sender, usual kind', [73, 10], 1, true),
  level('90-0 level sender, usual kind', [90, 0], 1, true),
  pressure('10-180 pressure sender, usual kind', [10, 180, 500], 1, true),
  pressure('240-33 pressure sender, usual kind', [240, 33, 690], 1, true),
];

function senderCard(each: SenderModel, index: number, random: RandomSource, day: number): Card {
  const factor = each.isUsual === true ? 1 : Math.exp(each.spread * random.normal());
  const about =
    each.isUsual === true
      ? 'nominal ohms, common practice, no source: measure yours'
      : `${WHERE[(index + each.name.length) % WHERE.length]!}`;
  return {
    ...common(day, about),
    ...{ kind: 'sender', quantity: each.quantity, unit: each.unit },
    points: each.values.map((value) => ({
      value,
      resistance_ohm: threeFigures(
        Math.max(0, each.ohm(value) * factor * (each.isUsual === true ? 1 : 1 + 0.004 * random.normal())),
      ),
    })),
  };
}

const belongs = (hashes: readonly string[], name: string): Statement => ({
  ...{ schema: STATEMENT_SCHEMA, says: 'belongs-to-model', about: [...hashes], model: name },
  at: new Date(FIRST_DAY).toISOString(),
});

/** Every document of the demo catalogue, in order. `hashOf`: how a document is named. */
export function demoDocuments(hashOf: (document: Card | Statement) => string): readonly (Card | Statement)[] {
  const random = randomSource(SEED);
  let day = 0;
  const group = (name: string, cards: readonly Card[]): (Card | Statement)[] => [
    ...cards,
    belongs(cards.map(hashOf), name),
  ];
  const next = (): number => (day += 3);
  return [
    ...MODELS.flatMap((each) =>
      group(
        each.name,
        Array.from({ length: each.count }, (_, i) => gaugeCard(each, i, random, next())),
      ),
    ),
    ...SENDERS.flatMap((each) =>
      group(
        each.name,
        Array.from({ length: each.count }, (_, i) => senderCard(each, i, random, next())),
      ),
    ),
  ];
}
