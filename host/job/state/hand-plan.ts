import {
  bearsPotentiometer,
  fixedResistorFor,
  fromList,
  handFeeds,
  handSettings,
  isBearable,
  leastHandOhm,
  makeable,
  MOST_DOWN_SHARE,
  onDecade,
  partsThatBear,
  pieceLoads,
  potentiometerLoad,
  UNKNOWN_START_OHM,
  type FixedResistor,
  type HandFeed,
  type Made,
  type Makes,
  type PieceLoad,
  type PotentiometerLoad,
} from '../../core/by-hand';
import type { HandSetUp, HandTools } from '../schema/by-hand';
import type { Gauge } from '../schema/gauge';
import { SWEEP_POINTS } from './sweep-size';

type Family = NonNullable<Gauge['family']>;
type Known = Pick<Gauge, 'mechanism' | 'family'>;

/** The circuits that this gauge may have; each part is reckoned in the worst of them. */
export const feedsOf = (
  { mechanism }: Known,
  { feedVolt, gaugeOhm }: Omit<HandSetUp, 'tools' | 'ohmmeter'>,
): readonly HandFeed[] => handFeeds({ mechanism, feedVolt, gaugeOhm });

/** What can be put on of a wanted resistance, with these tools. */
export function makesOf(tools: Exclude<HandTools, { way: 'potentiometer' }>): Makes {
  if (tools.way === 'resistors') return fromList(makeable(tools.parts));
  return (wantedOhm, { leastOhm, mostOhm = Infinity, isBearable: bears }) => {
    const made = onDecade(tools, wantedOhm);
    const isWithin = made !== undefined && made.resistanceOhm >= leastOhm && made.resistanceOhm <= mostOhm;
    return isWithin && bears(made) ? made : undefined;
  };
}

/** A part that would get more than it bears, and what one could buy instead. */
export type TooWeak = PieceLoad & { readonly instead?: ReturnType<typeof partsThatBear> };

/** Before the first step: what these tools can do for this gauge, and what they cannot bear. */
export type HandPlan =
  | {
      readonly way: 'resistors';
      readonly leastOhm: number;
      /** What will be asked for; only the first where nobody knows the family. */
      readonly settings: readonly Made[];
      /** The most that a piece of these settings carries, in watts. */
      readonly mostWatt: number;
      readonly tooWeak: readonly TooWeak[];
    }
  | {
      readonly way: 'potentiometer';
      readonly leastOhm: number;
      readonly load: PotentiometerLoad;
      readonly bears: boolean;
      readonly isFixedTooSmall: boolean;
      /** Of a gauge that nobody knows: a track that does not begin at enough ohms. */
      readonly isTooShort: boolean;
      readonly fixed?: FixedResistor;
    };

/** Too many to name: the first few tell what kind of part is missing. */
const MOST_NAMED = 3;

const weakOf = (
  tools: Exclude<HandTools, { way: 'potentiometer' }>,
  feeds: readonly HandFeed[],
  wanted: { readonly ends: Family; readonly leastOhm: number },
): readonly TooWeak[] => {
  const everything = { leastOhm: wanted.leastOhm, isBearable: () => true };
  const { lowEndOhm: fromOhm, highEndOhm: toOhm } = wanted.ends;
  const settings = handSettings(makesOf(tools), { fromOhm, toOhm, count: SWEEP_POINTS }, everything);
  return settings
    .filter((made) => !isBearable(made, feeds))
    .slice(0, MOST_NAMED)
    .flatMap((made) => {
      const [worst] = [...pieceLoads(made, feeds)].sort((one, other) => other.share - one.share);
      if (worst === undefined) return [];
      const instead = partsThatBear(made.resistanceOhm, feeds);
      return [{ ...worst, ...(instead === undefined ? {} : { instead }) }];
    });
};

/** Of a gauge that nobody knows, the wide range in which its sender must lie. Common practice, no source. */
const ANY_FAMILY: Family = { lowEndOhm: UNKNOWN_START_OHM, highEndOhm: 20 };

/** A family that ends in a short has no logarithm there. */
const SHORTEST_OHM = 1;

function resistorPlan(
  gauge: Known,
  { tools, ...circuit }: HandSetUp & { readonly tools: Exclude<HandTools, { way: 'potentiometer' }> },
  count: number,
): HandPlan {
  const leastOhm = leastHandOhm(gauge);
  const feeds = feedsOf(gauge, circuit);
  const allowed = { leastOhm, isBearable: (made: Made) => isBearable(made, feeds) };
  const makes = makesOf(tools);
  const { family } = gauge;
  const first =
    makes(UNKNOWN_START_OHM, { ...allowed, leastOhm: UNKNOWN_START_OHM }) ??
    makes(UNKNOWN_START_OHM / MOST_DOWN_SHARE, { ...allowed, leastOhm: UNKNOWN_START_OHM });
  const ends = family ?? ANY_FAMILY;
  const settings =
    family === undefined
      ? first === undefined
        ? []
        : [first]
      : handSettings(
          makes,
          {
            fromOhm: Math.max(SHORTEST_OHM, family.lowEndOhm),
            toOhm: Math.max(SHORTEST_OHM, family.highEndOhm),
            count,
          },
          allowed,
        );
  const watts = settings.flatMap((made) => pieceLoads(made, feeds).map(({ watt }) => watt));
  return {
    way: 'resistors',
    leastOhm,
    settings,
    mostWatt: Math.max(0, ...watts),
    tooWeak: weakOf(tools, feeds, { ends, leastOhm }),
  };
}

/**
 * What can be done by hand with these tools, and what they would carry. Nothing below the family's least ohms, no part
 * above 70 % of its largest current. Source: `host/core/by-hand`.
 */
export function handPlanOf(gauge: Known, hand: HandSetUp, count = SWEEP_POINTS): HandPlan {
  const { tools } = hand;
  if (tools.way !== 'potentiometer') return resistorPlan(gauge, { ...hand, tools }, count);
  const leastOhm = leastHandOhm(gauge);
  const feeds = feedsOf(gauge, hand);
  const load = potentiometerLoad(tools, feeds);
  const fixed = fixedResistorFor(tools, feeds, leastOhm);
  const bears = bearsPotentiometer(load);
  const isUnknown = gauge.family === undefined || gauge.mechanism === 'unknown';
  const isFixedTooSmall = !(tools.seriesOhm >= leastOhm);
  return {
    way: 'potentiometer',
    leastOhm,
    load,
    bears,
    isFixedTooSmall,
    isTooShort:
      isUnknown && gauge.family === undefined && !(tools.wholeOhm + tools.seriesOhm >= UNKNOWN_START_OHM),
    ...((bears && !isFixedTooSmall) || fixed === undefined ? {} : { fixed }),
  };
}
