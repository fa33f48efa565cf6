/** What a resistance is measured with, as its data sheet says: nowhere off by more than a part of the reading and some ohms. */
export type Ohmmeter = { readonly percent: number; readonly ohm: number };

/** How well resistances are known: standard uncertainties that all of a file share. */
export type SharedOhms = { readonly relative: number; readonly absoluteOhm: number };

/** A handheld multimeter of ordinary accuracy, its leads nulled as people do it (common practice, no source). */
export const HANDHELD: Ohmmeter = { percent: 0.8, ohm: 0.3 };

/** Box elements measured to a thousandth and contacts of some tens of milliohm (common practice, no source). */
export const BOX_OHMS: SharedOhms = { relative: 0.001, absoluteOhm: 0.03 };

/** Limits as standard uncertainties, every value between them as likely. Source: GUM 4.3.7, half width by root 3. */
export const sharedOhms = ({ percent, ohm }: Ohmmeter): SharedOhms => ({
  relative: percent / 100 / Math.sqrt(3),
  absoluteOhm: ohm / Math.sqrt(3),
});

const MOST_DECIMALS = 4;

/** Standard uncertainty of rounding to the last digit that any of the values shows: each value's own. Source: GUM F.2.2.1, step by root 12. */
export function lastDigitOhm(resistancesOhm: readonly number[]): number {
  const isWhole = (decimals: number): boolean =>
    resistancesOhm.every((ohm) => Math.abs(ohm * 10 ** decimals - Math.round(ohm * 10 ** decimals)) < 1e-6);
  let decimals = 0;
  while (decimals < MOST_DECIMALS && !isWhole(decimals)) decimals += 1;
  return 10 ** -decimals / Math.sqrt(12);
}
