import { crossCoil, electronic, movingCoil, thermal, twoCoil } from './mechanism';
import type { Mechanism } from './mechanism';
import { betaThermistor, taperedTrack, track } from './senders';
import type { SenderLaw } from './senders';

export type Mark = { readonly label: string; readonly reading: number; readonly angleFraction: number };

/** A gauge that the simulated vehicle can have. */
export type SimulatedGauge = {
  readonly name: string;
  readonly title: string;
  readonly quantity: 'temperature' | 'fuel' | 'pressure';
  readonly unit: string;
  readonly mechanism: Mechanism;
  readonly terminals: 2 | 3;
  readonly marks: readonly Mark[];
  /** Lowest and highest reading of the scale. */
  readonly originalSender: SenderLaw;
  readonly replacementSender: SenderLaw;
};

type Recipe = Omit<SimulatedGauge, 'marks'> & {
  readonly labels: readonly (readonly [label: string, reading: number])[];
};

/** The marks stand where the original sender drives the needle, as whoever drew the dial saw to it. */
export function gauge({ labels, ...rest }: Recipe): SimulatedGauge {
  const drives = labels.map(([, reading]) => rest.mechanism.steadyDrive(rest.originalSender(reading)));
  const first = drives[0]!;
  const span = drives[drives.length - 1]! - first;
  const marks = labels.map(([label, reading], index) => ({
    label,
    reading,
    // Plus zero, because a rounded nothing may come out as minus zero.
    angleFraction: Math.round(((drives[index]! - first) / span) * 10_000) / 10_000 + 0,
  }));
  return { ...rest, marks };
}

const coolantLabels = [
  ['C', 40],
  ['60', 60],
  ['80', 80],
  ['100', 100],
  ['H', 120],
] as const;

const fuelLabels = [
  ['E', 0],
  ['1/4', 25],
  ['1/2', 50],
  ['3/4', 75],
  ['F', 100],
] as const;

/** Heater of the hungriest published gauge: 225 mA at 10 ohm on 5 V. */
const FUEL_HEATER_OHM = 12.22;

/** Two vehicles have this gauge: one as it was made, one whose stabiliser was replaced by an electronic one, which is steady. */
const thermalFuel = {
  quantity: 'fuel',
  unit: '%',
  terminals: 2,
  labels: fuelLabels,
  originalSender: taperedTrack({ value: 0, ohm: 73 }, { value: 100, ohm: 10 }),
  replacementSender: taperedTrack({ value: 0, ohm: 88 }, { value: 100, ohm: 8 }),
} as const;

const electronicThermistor = betaThermistor({ celsius: 20, ohm: 2450 }, 3731);

/** The program of the electronic gauge: temperature to part of the scale, with the flat middle owners complain of. */
const electronicTable: readonly (readonly [celsius: number, fraction: number])[] = [
  [40, 0],
  [60, 0.2],
  [82, 0.5],
  [104, 0.5],
  [115, 0.75],
  [125, 1],
];

function electronicShape(senderOhm: number): number {
  // Falling resistance, rising temperature: walk up the table until the resistance is reached.
  for (let index = 1; index < electronicTable.length; index += 1) {
    const [coldCelsius, coldFraction] = electronicTable[index - 1]!;
    const [hotCelsius, hotFraction] = electronicTable[index]!;
    const coldOhm = electronicThermistor(coldCelsius);
    const hotOhm = electronicThermistor(hotCelsius);
    if (senderOhm >= coldOhm) return coldFraction;
    if (senderOhm < hotOhm) continue;
    const part = Math.log(coldOhm / senderOhm) / Math.log(coldOhm / hotOhm);
    return coldFraction + (hotFraction - coldFraction) * part;
  }
  return 1;
}

/** Every gauge, the five kinds first. Vehicles are invented; values are of the orders published for such gauges. */
export const simulatedGauges: readonly SimulatedGauge[] = [
  gauge({
    name: 'thermal-temperature',
    title: 'Harrow Six saloon (1964), coolant, thermal with stabiliser',
    quantity: 'temperature',
    unit: 'degC',
    mechanism: thermal(58, { effectiveVolt: 10, periodMs: 1000 }),
    terminals: 2,
    labels: coolantLabels,
    originalSender: betaThermistor({ celsius: 50, ohm: 320.5 }, 3556),
    replacementSender: betaThermistor({ celsius: 50, ohm: 265 }, 3780),
  }),
  gauge({
    name: 'two-coil-fuel',
    title: 'Tern 1100 van (1971), fuel, two-coil moving iron',
    quantity: 'fuel',
    unit: '%',
    mechanism: twoCoil({ limitingOhm: 90, operatingOhm: 90 }),
    terminals: 3,
    labels: fuelLabels,
    originalSender: track({ value: 0, ohm: 3 }, { value: 100, ohm: 90 }),
    replacementSender: track({ value: 0, ohm: 3 }, { value: 100, ohm: 110 }),
  }),
  gauge({
    name: 'cross-coil-temperature',
    title: 'Calder 4x4 (1979), coolant, cross-coil',
    quantity: 'temperature',
    unit: 'degC',
    mechanism: crossCoil({ limitingOhm: 110, operatingOhm: 140, highTurns: 1, buckingTurns: 0.5 }),
    terminals: 3,
    labels: coolantLabels,
    originalSender: betaThermistor({ celsius: 93.3, ohm: 64.3 }, 4030),
    replacementSender: betaThermistor({ celsius: 93.3, ohm: 55 }, 3950),
  }),
  gauge({
    name: 'moving-coil-pressure',
    title: 'Marlow Tourer (1958), oil pressure, moving coil',
    quantity: 'pressure',
    unit: 'kPa',
    mechanism: movingCoil(200, 8),
    terminals: 2,
    labels: [
      ['0', 0],
      ['1', 100],
      ['2', 200],
      ['4', 400],
      ['6', 600],
    ],
    originalSender: track({ value: 0, ohm: 184 }, { value: 600, ohm: 10 }),
    replacementSender: track({ value: 0, ohm: 180 }, { value: 600, ohm: 30 }),
  }),
  gauge({
    name: 'electronic-temperature',
    title: 'Lynton coupe (1986), coolant, electronic with flat middle',
    quantity: 'temperature',
    unit: 'degC',
    mechanism: electronic({ ohm: 1000, volt: 5 }, electronicShape),
    terminals: 3,
    labels: [
      ['C', 40],
      ['60', 60],
      ['90', 90],
      ['115', 115],
      ['H', 125],
    ],
    originalSender: electronicThermistor,
    replacementSender: betaThermistor({ celsius: 20, ohm: 2900 }, 3600),
  }),
  gauge({
    ...thermalFuel,
    name: 'thermal-fuel',
    title: 'Harrow Six saloon (1964), fuel, thermal with 5 V stabiliser',
    mechanism: thermal(FUEL_HEATER_OHM, { effectiveVolt: 5, periodMs: 1000 }),
  }),
  gauge({
    ...thermalFuel,
    name: 'thermal-fuel-steady',
    title: 'Harrow Seven estate (1968), fuel, thermal, electronic 5 V stabiliser fitted later',
    mechanism: thermal(FUEL_HEATER_OHM, { effectiveVolt: 5, periodMs: 0 }),
  }),
  gauge({
    name: 'cross-coil-fuel',
    title: 'Calder 4x4 (1979), fuel, cross-coil',
    quantity: 'fuel',
    unit: '%',
    mechanism: crossCoil({ limitingOhm: 130, operatingOhm: 180, highTurns: 1, buckingTurns: 0.4 }),
    terminals: 3,
    labels: fuelLabels,
    originalSender: taperedTrack({ value: 0, ohm: 240 }, { value: 100, ohm: 33 }),
    replacementSender: taperedTrack({ value: 0, ohm: 240 }, { value: 100, ohm: 45 }),
  }),
];

/** A gauge by its name. */
export const simulatedGauge = (name: string): SimulatedGauge | undefined =>
  simulatedGauges.find((candidate) => candidate.name === name);
