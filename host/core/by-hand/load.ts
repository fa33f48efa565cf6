import { preferredValues, ratingLadder } from '../preferred';
import type { DrawerPart, Made, Piece } from './drawer';

/** What stands behind the sender wire: the most volts that the feed gives, by their heat, and the gauge's own ohms. */
export type HandFeed = { readonly volt: number; readonly gaugeOhm: number };

/** The engine running charges to this. Common practice, no source. */
const HIGHEST_SUPPLY_VOLT = 14.4;
/** Low end of what coils measure between their terminals. Common practice, no source. */
const COIL_OHM = 50;
/** Pull-up of an electronic gauge: two of 820 ohm side by side is the least that was found. Common practice, no source. */
const PULL_UP_OHM = 410;
/**
 * Heaters behind their stabilisers, volts by their heat: 12.2 ohm at 5 V carry 225 mA through a sender of 10 ohm
 * (published in an owners' thread), 58 ohm at 10 V carry 102 mA through 40 ohm (common practice, no source).
 */
const HEATERS: readonly HandFeed[] = [
  { volt: 5, gaugeOhm: 12.2 },
  { volt: 10, gaugeOhm: 58 },
];
const COILS: HandFeed = { volt: HIGHEST_SUPPLY_VOLT, gaugeOhm: COIL_OHM };
/** A heater of less than this belongs to the 5 V kind. */
const LOW_HEATER_OHM = 25;

type Mechanism = 'thermal' | 'two-coil' | 'cross-coil' | 'moving-coil' | 'electronic' | 'unknown';

/** What is known of a gauge's circuit; what is left out is taken at its worst. */
export type KnownCircuit = {
  readonly mechanism: Mechanism;
  readonly feedVolt?: number | undefined;
  readonly gaugeOhm?: number | undefined;
};

const usualFeeds = (mechanism: Mechanism): readonly HandFeed[] => {
  switch (mechanism) {
    case 'thermal':
      return HEATERS;
    case 'electronic':
      return [{ volt: HIGHEST_SUPPLY_VOLT, gaugeOhm: PULL_UP_OHM }];
    case 'two-coil':
    case 'cross-coil':
    case 'moving-coil':
      return [COILS];
    case 'unknown':
      return [COILS, ...HEATERS];
  }
};

/**
 * The circuits that a gauge may have, volts and ohms; each part is reckoned in the worst of them. A third terminal only
 * lessens what comes out of the sender terminal, so it is left out. Source: Thevenin; figures as above.
 */
export function handFeeds({ mechanism, feedVolt, gaugeOhm }: KnownCircuit): readonly HandFeed[] {
  const usual = usualFeeds(mechanism);
  const sameKind = usual.filter((feed) =>
    gaugeOhm === undefined ? true : feed.gaugeOhm < LOW_HEATER_OHM === gaugeOhm < LOW_HEATER_OHM,
  );
  const kinds = sameKind.length === 0 ? usual : sameKind;
  return kinds.map((feed) => ({ volt: feedVolt ?? feed.volt, gaugeOhm: gaugeOhm ?? feed.gaugeOhm }));
}

/** Ohm's law: what flows from the feed through the gauge and this resistance, in ampere. */
export const feedAmp = ({ volt, gaugeOhm }: HandFeed, resistanceOhm: number): number =>
  volt / (gaugeOhm + resistanceOhm);

/** The largest current that a rated part may carry anywhere along it, in ampere: watts are current squared times ohms. */
export const largestAmp = (ratingWatt: number, wholeOhm: number): number => Math.sqrt(ratingWatt / wholeOhm);

/** No part is asked to carry more than this share of its largest current: about half of its watts. */
export const MOST_CURRENT_SHARE = 0.7;
/** A part with no rating on it is taken for the smallest that is common. Common practice, no source. */
const UNRATED_WATT = 0.25;

/** What one piece would carry, at the worst of the circuits. `share`: of its largest current. */
export type PieceLoad = {
  readonly piece: Piece;
  readonly ratingWatt: number;
  readonly amp: number;
  readonly watt: number;
  readonly share: number;
};

/** The piece's part of the whole current: all of it in series, by the ohms side by side. Source: current divider. */
const pieceAmp = ({ joint, resistanceOhm }: Made, piece: Piece, wholeAmp: number): number =>
  joint === 'parallel' ? (wholeAmp * resistanceOhm) / piece.resistanceOhm : wholeAmp;

function loadOf(made: Made, piece: Piece, feed: HandFeed): PieceLoad {
  const amp = pieceAmp(made, piece, feedAmp(feed, made.resistanceOhm));
  const ratingWatt = piece.ratingWatt ?? UNRATED_WATT;
  return {
    piece,
    ratingWatt,
    amp,
    watt: amp ** 2 * piece.resistanceOhm,
    share: amp / largestAmp(ratingWatt, piece.resistanceOhm),
  };
}

/** What each piece would carry, in ampere and watts, at the worst of the circuits. Source: Ohm and Joule. */
export const pieceLoads = (made: Made, feeds: readonly HandFeed[]): readonly PieceLoad[] =>
  made.pieces.map((piece) =>
    feeds
      .map((feed) => loadOf(made, piece, feed))
      .reduce((worst, each) => (each.share > worst.share ? each : worst)),
  );

/** Written so that what is not a number is not bearable. */
export const isBearable = (made: Made, feeds: readonly HandFeed[]): boolean =>
  pieceLoads(made, feeds).every(({ share }) => share <= MOST_CURRENT_SHARE);

const MOST_SIDE_BY_SIDE = 2;
const NEAR_RATIO = 1.15;

/**
 * Parts that one can buy which bear what one part does not: equal ones of the E12 series, two at most, of the least
 * rating. `count` of `resistanceOhm` side by side. Undefined where nothing up to 5 W does.
 */
export function partsThatBear(
  wantedOhm: number,
  feeds: readonly HandFeed[],
): (DrawerPart & { readonly ratingWatt: number }) | undefined {
  const MOST_HANDY_WATT = 5;
  for (const { ratingWatt } of ratingLadder.filter((each) => each.ratingWatt <= MOST_HANDY_WATT))
    for (let count = 1; count <= MOST_SIDE_BY_SIDE; count += 1) {
      const near = preferredValues('E12', (count * wantedOhm) / NEAR_RATIO, count * wantedOhm * NEAR_RATIO);
      const resistanceOhm = near.sort(
        (one, other) =>
          Math.abs(Math.log(one / (count * wantedOhm))) - Math.abs(Math.log(other / (count * wantedOhm))),
      )[0];
      if (resistanceOhm === undefined) continue;
      const pieces = Array.from({ length: count }, () => ({ resistanceOhm, ratingWatt }));
      const made: Made = {
        resistanceOhm: resistanceOhm / count,
        joint: count === 1 ? 'single' : 'parallel',
        pieces,
      };
      if (isBearable(made, feeds)) return { resistanceOhm, ratingWatt, count };
    }
  return undefined;
}
