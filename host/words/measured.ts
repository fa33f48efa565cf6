import type { CheckFinding } from '../job/findings';
import type { Measurement } from '../job/state/state';

const NAMES: Readonly<Record<Measurement['what'], string>> = {
  'supply-volt': 'supply at the gauge',
  'open-circuit-volt': 'sender wire with nothing on it',
  'effective-volt': 'effective volts at the gauge',
  'ripple-volt': 'ripple of the feed',
  'ground-offset-volt': 'gauge ground to sender body',
  'sender-wire-ohm': 'sender wire',
  'sender-body-ohm': 'sender body to ground',
  'sender-stud-volt': 'sender terminal of the gauge',
  'gauge-ohm': 'the gauge itself',
  'temperature-celsius': 'temperature',
  'sender-ohm': 'sender at its connector',
  'loaded-volt': 'sender wire with the resistor on it',
};

const LOADS: Readonly<Record<NonNullable<Measurement['loads']>, string>> = {
  off: '',
  lights: ', lights on',
  fan: ', fan on',
  charging: ', charging',
};

/** No meter of a garage is good for more: tenths of a millivolt, hundredths of a volt, three figures of ohms. */
const sizeOf = ({ what, value }: Measurement): string => {
  if (what === 'ground-offset-volt') return `${Number((1000 * value).toFixed(1))} mV`;
  if (what.endsWith('volt')) return `${value.toFixed(2)} V`;
  if (what.endsWith('ohm')) return `${Number(value.toPrecision(3))} \u03a9`;
  return `${value.toFixed(1)} \u00b0C`;
};

/** What was measured, and what it came to: "gauge ground to sender body, lights on", "4.1 mV (box), worth 2 K at 90 degC". */
export function measuredParts(
  measurement: Measurement,
  worth?: CheckFinding,
): { readonly what: string; readonly size: string } {
  const { what, loads, source } = measurement;
  const size =
    what === 'ground-offset-volt' && (loads === 'off' || loads === 'lights')
      ? worth?.groundWorth[loads]?.words
      : undefined;
  const by = source === 'box' ? 'box' : 'meter';
  return {
    what: `${NAMES[what]}${loads === undefined ? '' : LOADS[loads]}`,
    size: `${sizeOf(measurement)} (${by})${size === undefined ? '' : `, ${size}`}`,
  };
}

/** The same in one line. */
export function measuredWords(measurement: Measurement, worth?: CheckFinding): string {
  const { what, size } = measuredParts(measurement, worth);
  return `${what}: ${size}`;
}
