import type { Gauge, Mark } from '../../job/schema/gauge';
import type { SimulatedGauge } from '../../job/wire/host-messages';

/** A plain dial to start from; the person changes what differs. */
export type DialTemplate = {
  readonly id: string;
  readonly words: string;
  readonly gauge: Pick<Gauge, 'quantity' | 'unit' | 'marks' | 'zones' | 'arcDegrees' | 'divisionReading'>;
};

/** Evenly spaced marks with the readings given, low end first. */
const evenMarks = (readings: readonly number[], labels?: readonly string[]): Mark[] =>
  readings.map((reading, index) => ({
    label: labels?.[index] ?? String(reading),
    reading,
    angleFraction: index / (readings.length - 1),
  }));

/** Plain scales of the era. Common practice, no source. */
export const templates: readonly DialTemplate[] = [
  {
    id: 'celsius',
    words: 'Degrees Celsius, 40 to 120',
    gauge: {
      quantity: 'temperature',
      unit: 'degC',
      marks: evenMarks([40, 60, 80, 100, 120]),
      zones: [
        { fromReading: 75, toReading: 95, meaning: 'normal' },
        { fromReading: 105, toReading: 120, meaning: 'danger' },
      ],
    },
  },
  {
    id: 'fahrenheit',
    words: 'Degrees Fahrenheit, 100 to 250',
    gauge: {
      quantity: 'temperature',
      unit: 'degF',
      marks: evenMarks([100, 150, 200, 250]),
      zones: [
        { fromReading: 165, toReading: 205, meaning: 'normal' },
        { fromReading: 225, toReading: 250, meaning: 'danger' },
      ],
    },
  },
  {
    id: 'cold-hot',
    words: 'C and H only (taken as 40 and 120 \u00b0C)',
    gauge: { quantity: 'temperature', unit: 'degC', marks: evenMarks([40, 80, 120], ['C', 'N', 'H']) },
  },
  {
    id: 'fuel-letters',
    words: 'E, \u00bd, F',
    gauge: {
      quantity: 'fuel',
      unit: '%',
      marks: evenMarks([0, 25, 50, 75, 100], ['E', '1/4', '1/2', '3/4', 'F']),
      zones: [{ fromReading: 0, toReading: 12, meaning: 'caution' }],
    },
  },
  {
    id: 'fuel-litres',
    words: 'Litres, 0 to 50',
    gauge: { quantity: 'fuel', unit: 'L', marks: evenMarks([0, 10, 20, 30, 40, 50]) },
  },
  {
    id: 'fuel-us-gallons',
    words: 'US gallons, 0 to 16',
    gauge: { quantity: 'fuel', unit: 'US gal', marks: evenMarks([0, 4, 8, 12, 16]) },
  },
  {
    id: 'fuel-imperial-gallons',
    words: 'Imperial gallons, 0 to 12',
    gauge: { quantity: 'fuel', unit: 'imp gal', marks: evenMarks([0, 3, 6, 9, 12]) },
  },
  {
    id: 'bar',
    words: 'Bar, 0 to 5',
    gauge: {
      quantity: 'pressure',
      unit: 'bar',
      marks: evenMarks([0, 1, 2, 3, 4, 5]),
      zones: [{ fromReading: 0, toReading: 0.7, meaning: 'danger' }],
    },
  },
  {
    id: 'psi',
    words: 'psi, 0 to 100',
    gauge: { quantity: 'pressure', unit: 'psi', marks: evenMarks([0, 25, 50, 75, 100]) },
  },
  {
    id: 'kilopascal',
    words: 'kPa, 0 to 500',
    gauge: { quantity: 'pressure', unit: 'kPa', marks: evenMarks([0, 100, 200, 300, 400, 500]) },
  },
  {
    id: 'other',
    words: 'Percent of scale, 0 to 100',
    gauge: { quantity: 'other', unit: '%', marks: evenMarks([0, 20, 40, 60, 80, 100]) },
  },
];

export const templatesFor = (quantity: Gauge['quantity']): readonly DialTemplate[] =>
  templates.filter((template) => template.gauge.quantity === quantity);

/** The simulated vehicle whose dial is the job's dial; failing that, one of the same quantity. */
export function simulatedGaugeFor(
  gauge: Pick<Gauge, 'quantity' | 'marks'>,
  known: readonly SimulatedGauge[],
): SimulatedGauge | undefined {
  const dial = JSON.stringify(gauge.marks);
  return (
    known.find((each) => JSON.stringify(each.marks) === dial) ??
    known.find((each) => each.quantity === gauge.quantity) ??
    known[0]
  );
}

/** The gauge of a simulated vehicle as a job takes it: its own dial, and the family its original sender belongs to. */
export function gaugeOfSimulated(described: SimulatedGauge): Gauge {
  const { quantity, mechanism, unit, marks, terminals, originalSender } = described;
  const [low, high] = [originalSender[0], originalSender.at(-1)];
  return {
    quantity,
    mechanism,
    unit,
    marks,
    terminals,
    ...(low === undefined || high === undefined
      ? {}
      : { family: { lowEndOhm: low.ohm, highEndOhm: high.ohm } }),
  };
}

/** Sender families in circulation, low end of the dial first. Common practice, no source: measure yours. */
export const families: Readonly<
  Record<Gauge['quantity'], readonly (readonly [low: number, high: number])[]>
> = {
  temperature: [
    [700, 22],
    [450, 30],
    [300, 22],
    [2400, 100],
  ],
  fuel: [
    [0, 90],
    [73, 10],
    [240, 33],
    [90, 0],
    [10, 180],
    [0, 30],
  ],
  pressure: [
    [10, 180],
    [240, 33],
    [73, 10],
    [0, 90],
  ],
  other: [],
};
