import { gauge } from '../gauges/catalogue';
import type { SimulatedGauge } from '../gauges/catalogue';
import { movingCoil, thermal, type Mechanism } from '../gauges/mechanism';
import { betaThermistor, taperedTrack, track } from '../gauges/senders';
import { settledAmp, type Winding } from './shared-circuit';

export type ClusterGauge = {
  /** Where it sits in the cluster. */
  readonly place: string;
  readonly gauge: SimulatedGauge;
  readonly winding?: Winding;
};

/** Gauges in one housing, on one stabiliser. */
export type SimulatedCluster = {
  readonly name: string;
  readonly title: string;
  readonly gauges: readonly ClusterGauge[];
};

const EFFECTIVE_VOLT = 10;
const HEATER_OHM = 58;
/** A bimetal stabiliser's beat, and that of an electronic one: none. */
const BEAT_MS = 1000;
const STEADY = 0;

type Row = Pick<
  Parameters<typeof gauge>[0],
  'quantity' | 'unit' | 'labels' | 'originalSender' | 'replacementSender'
> & {
  readonly place: string;
  readonly what: string;
};

/** Four gauges of one invented vehicle; senders and heaters are of the orders published for 10 V thermal gauges. */
const rows: readonly Row[] = [
  {
    place: 'left',
    what: 'fuel',
    quantity: 'fuel',
    unit: '%',
    labels: [
      ['E', 0],
      ['1/4', 25],
      ['1/2', 50],
      ['3/4', 75],
      ['F', 100],
    ],
    originalSender: taperedTrack({ value: 0, ohm: 240 }, { value: 100, ohm: 20 }),
    replacementSender: taperedTrack({ value: 0, ohm: 270 }, { value: 100, ohm: 33 }),
  },
  {
    place: 'centre left',
    what: 'coolant',
    quantity: 'temperature',
    unit: 'degC',
    labels: [
      ['C', 40],
      ['60', 60],
      ['80', 80],
      ['100', 100],
      ['H', 120],
    ],
    originalSender: betaThermistor({ celsius: 50, ohm: 320.5 }, 3556),
    replacementSender: betaThermistor({ celsius: 50, ohm: 265 }, 3780),
  },
  {
    place: 'centre right',
    what: 'oil pressure',
    quantity: 'pressure',
    unit: 'kPa',
    labels: [
      ['0', 0],
      ['1', 100],
      ['2', 200],
      ['4', 400],
      ['6', 600],
    ],
    originalSender: taperedTrack({ value: 0, ohm: 210 }, { value: 600, ohm: 22 }),
    replacementSender: taperedTrack({ value: 0, ohm: 184 }, { value: 600, ohm: 30 }),
  },
  {
    place: 'right',
    what: 'oil temperature',
    quantity: 'temperature',
    unit: 'degC',
    labels: [
      ['40', 40],
      ['80', 80],
      ['100', 100],
      ['120', 120],
      ['140', 140],
    ],
    originalSender: betaThermistor({ celsius: 50, ohm: 380 }, 3300),
    replacementSender: betaThermistor({ celsius: 50, ohm: 330 }, 3450),
  },
];

const fourThermal = (vehicle: string, periodMs: number): readonly ClusterGauge[] =>
  rows.map(({ place, what, ...row }) => ({
    place,
    gauge: gauge({
      ...row,
      name: `cluster-${what.replace(' ', '-')}-${periodMs === STEADY ? 'steady' : 'pulsing'}`,
      title: `${vehicle}: ${what}, thermal with 10 V stabiliser`,
      mechanism: thermal(HEATER_OHM, { effectiveVolt: EFFECTIVE_VOLT, periodMs }),
      terminals: 2,
    }),
  }));

/** A copper coil on an aluminium former beside a swamping resistor. Orders from the trade, no source. */
const COIL: Winding = { copperPart: 0.5, kelvinPerWatt: 60, lagMs: 90_000 };
const COIL_OHM = 200;

/** Whoever drew its dial waited until the coil was warm. */
const warmCoil: Mechanism = {
  ...movingCoil(COIL_OHM, EFFECTIVE_VOLT),
  steadyDrive: (senderOhm) => settledAmp(EFFECTIVE_VOLT, COIL_OHM, COIL, senderOhm),
};

const withMovingCoil = (): readonly ClusterGauge[] => [
  ...fourThermal('Marlow Tourer (1961)', STEADY).slice(0, 2),
  {
    place: 'right',
    winding: COIL,
    gauge: gauge({
      name: 'cluster-oil-moving-coil',
      title: 'Marlow Tourer (1961), oil pressure, moving coil on 10 V',
      quantity: 'pressure',
      unit: 'kPa',
      mechanism: warmCoil,
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
  },
];

export const simulatedClusters: readonly SimulatedCluster[] = [
  {
    name: 'thermal-cluster',
    title: 'Harrow Six saloon (1964), electronic stabiliser fitted later',
    gauges: fourThermal('Harrow Six saloon (1964)', STEADY),
  },
  {
    name: 'pulsing-cluster',
    title: 'Harrow Six saloon (1964), its own bimetal stabiliser',
    gauges: fourThermal('Harrow Six saloon (1964)', BEAT_MS),
  },
  { name: 'mixed-cluster', title: 'Marlow Tourer (1961)', gauges: withMovingCoil() },
];

export const simulatedCluster = (name: string): SimulatedCluster | undefined =>
  simulatedClusters.find((each) => each.name === name);
