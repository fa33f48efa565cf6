import type { Gauge, Mark } from '../../job/gauge';

/** A plain dial to start from; the person changes what differs. */
export type DialTemplate = {
  readonly id: string;
  readonly words: string;
  readonly gauge: Pick<Gauge, 'quantity' | 'unit' | 'marks' | 'zones' | 'arcDegrees' | 'divisionReading'>;
};

/** Evenly spaced marks with the readings given, low end first. */
export const evenMarks = (readings: readonly number[], labels?: readonly string[]): Mark[] =>
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

/** The simulated gauge nearest to what was described, so that the drawn dash behaves like it. */
const SIMULATED_FOR: Readonly<Record<Gauge['quantity'], string>> = {
  temperature: 'thermal-temperature',
  fuel: 'two-coil-fuel',
  pressure: 'moving-coil-pressure',
  other: 'cross-coil-temperature',
};

export function simulatedGaugeFor(gauge: Pick<Gauge, 'quantity' | 'mechanism'>, known: readonly string[]): string {
  const wanted = `${gauge.mechanism}-${gauge.quantity}`;
  return known.includes(wanted) ? wanted : SIMULATED_FOR[gauge.quantity];
}
