import { HANDHELD, lastDigitOhm, sharedOhms, type Ohmmeter } from '../ohmmeter';

/** What an ohmmeter shows of something, and what it showed with its leads shorted. */
export type MeterShown = {
  readonly shownOhm: number;
  readonly leadsOhm?: number | undefined;
};

/**
 * A resistance as a person measured it, in ohm, with its standard uncertainty: the leads' own ohms taken off, the limits
 * of the meter's data sheet (a handheld's where none are known) and its last digit. Source: GUM 5.1.2.
 */
export function typedOhms(
  { shownOhm, leadsOhm = 0 }: MeterShown,
  meter: Ohmmeter = HANDHELD,
): { readonly resistanceOhm: number; readonly uncertaintyOhm: number } {
  // A difference of two shown figures has no more decimals than they have.
  const resistanceOhm = Number((shownOhm - leadsOhm).toFixed(4));
  const { relative, absoluteOhm } = sharedOhms(meter);
  return {
    resistanceOhm,
    uncertaintyOhm: Math.hypot(relative * shownOhm, absoluteOhm, lastDigitOhm([shownOhm])),
  };
}
