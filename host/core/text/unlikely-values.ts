import type { Unit } from '../units';

/** More than coolant and oil come to. Common practice, no source. */
const HOTTEST_CELSIUS = 200;
/** No sender of a gauge on a dash is used there: such figures are ohms. Common practice, no source. */
const NO_TEMPERATURE_CELSIUS = 450;
/** More than oil, fuel and air come to on a vehicle. Common practice, no source. */
const HIGHEST_BAR = 25;

/** What a column of values likely is where no sender and no gauge of its unit has such values; nothing is changed. */
export function unlikelyValues(values: readonly number[], unit: Unit | undefined): readonly string[] {
  const most = Math.max(...values);
  if (unit?.name === 'degC' && most > NO_TEMPERATURE_CELSIUS)
    return [
      `${most} degC is no temperature of a sender; if the two columns are swapped, exchange their headings`,
    ];
  if (unit?.name === 'degC' && most > HOTTEST_CELSIUS)
    return [
      `${most} degC is more than coolant and oil come to; if these are degrees Fahrenheit, let the heading end in _F; if they are ohms, the two columns are swapped`,
    ];
  if (unit?.name === 'bar' && most > HIGHEST_BAR)
    return [`${most} bar is more than oil and air come to; if these are psi, let the heading end in _psi`];
  return [];
}
