import { preferredValues, ratingLadder } from '../preferred';
import { feedAmp, largestAmp, MOST_CURRENT_SHARE, type HandFeed } from './load';

/** A potentiometer joined as a variable resistor, with a fixed resistor in series that stays on. */
export type HandPotentiometer = {
  readonly wholeOhm: number;
  readonly ratingWatt: number;
  readonly seriesOhm: number;
  readonly seriesWatt: number;
};

/** At its lowest setting: the current, and what share of the largest current track and fixed resistor would carry. */
export type PotentiometerLoad = {
  readonly amp: number;
  readonly trackLargestAmp: number;
  readonly trackShare: number;
  readonly seriesWatt: number;
  readonly seriesShare: number;
};

const highestAmp = (feeds: readonly HandFeed[], resistanceOhm: number): number =>
  Math.max(...feeds.map((feed) => feedAmp(feed, resistanceOhm)));

/**
 * What the turned-down potentiometer carries, in ampere and watts, at the worst of the circuits. Turned down, the fixed
 * resistor alone is in the way, and what is left of the track carries all of it: the largest current of a track is the
 * same at every place, sqrt(rated watts / whole ohms). Source: Joule; makers rate the whole track.
 */
export function potentiometerLoad(
  { wholeOhm, ratingWatt, seriesOhm, seriesWatt }: HandPotentiometer,
  feeds: readonly HandFeed[],
): PotentiometerLoad {
  const amp = highestAmp(feeds, seriesOhm);
  const trackLargestAmp = largestAmp(ratingWatt, wholeOhm);
  return {
    amp,
    trackLargestAmp,
    trackShare: amp / trackLargestAmp,
    seriesWatt: amp ** 2 * seriesOhm,
    seriesShare: amp / largestAmp(seriesWatt, seriesOhm),
  };
}

/** Written so that what is not a number is not bearable. */
export const bearsPotentiometer = ({ trackShare, seriesShare }: PotentiometerLoad): boolean =>
  trackShare <= MOST_CURRENT_SHARE && seriesShare <= MOST_CURRENT_SHARE;

/** A fixed resistor that goes before a potentiometer. */
export type FixedResistor = { readonly seriesOhm: number; readonly seriesWatt: number };

/**
 * The least fixed resistor of the E12 series that is not below the floor and keeps the track's current down, with the
 * rating that bears it; undefined where none does.
 */
export function fixedResistorFor(
  { wholeOhm, ratingWatt }: Pick<HandPotentiometer, 'wholeOhm' | 'ratingWatt'>,
  feeds: readonly HandFeed[],
  leastOhm: number,
): FixedResistor | undefined {
  const HIGHEST_OHM = 10_000;
  for (const seriesOhm of preferredValues('E12', leastOhm, HIGHEST_OHM)) {
    const rating = ratingLadder.find((each) =>
      bearsPotentiometer(
        potentiometerLoad({ wholeOhm, ratingWatt, seriesOhm, seriesWatt: each.ratingWatt }, feeds),
      ),
    );
    if (rating !== undefined) return { seriesOhm, seriesWatt: rating.ratingWatt };
  }
  return undefined;
}
