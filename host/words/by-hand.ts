import type { Made, Piece } from '../core/by-hand';
import type { HandAsk } from '../job/state/hand-step';
import type { HandPlan, TooWeak } from '../job/state/hand-plan';
import type { Notation } from './notation';
import { listed } from './sentence';

const FEW: Readonly<Record<number, string>> = { 2: 'two', 3: 'three' };

/** Equal ones are counted: "two 220 ohm". */
const pieceWords = (pieces: readonly Piece[], say: Notation): readonly string[] =>
  [...new Set(pieces.map(({ resistanceOhm }) => resistanceOhm))].map((ohm) => {
    const many = pieces.filter(({ resistanceOhm }) => resistanceOhm === ohm).length;
    return `${many === 1 ? '' : `${FEW[many] ?? many} `}${say.part(ohm)}`;
  });

/** How the parts make it: "100 ohm and 47 ohm in series"; undefined for one part, which says it itself. */
function madeWords({ joint, pieces }: Made, say: Notation): string | undefined {
  switch (joint) {
    case 'single':
    case 'decade':
      return undefined;
    case 'series':
      return `${listed(pieceWords(pieces, say))} in series`;
    case 'parallel':
      return `${listed(pieceWords(pieces, say))} in parallel`;
  }
}

const tidy = (watt: number): number => Number(watt.toPrecision(2));

/** A rating as it is written on a part: 0.25 W is 1/4 W. */
const ratingWords = (watt: number): string =>
  watt < 1 && Number.isInteger(1 / watt) ? `1/${1 / watt} W` : `${watt} W`;

/** What a part would get, and what bears it instead. */
function tooWeakWords({ piece, ratingWatt, watt, instead }: TooWeak, say: Notation): string {
  const part = `Your ${piece.ratingWatt === undefined ? '' : `${ratingWords(ratingWatt)} `}${say.part(piece.resistanceOhm)}`;
  const gets = `${part} would get ${tidy(watt)} W: too small.`;
  if (instead === undefined) return `${gets} No handy part bears that: leave it out.`;
  const { count, resistanceOhm } = instead;
  const other = `${say.part(resistanceOhm)} ${instead.ratingWatt} W`;
  return count === 1 ? `${gets} Use ${other}.` : `${gets} Use ${FEW[count] ?? count} ${other} in parallel.`;
}

/** What to do now, as a heading, and what belongs to it. */
export type AskWords = { readonly head: string; readonly how: string; readonly done: string };

/** What is on is not what was asked for: by how much, and where that usually comes from. */
export function otherOhmWords(
  { fromOhm, toOhm, resistanceOhm }: Extract<HandAsk, { kind: 'put-on' }>,
  shownOhm: number,
  say: Notation,
): string {
  const times = Math.max(shownOhm / resistanceOhm, resistanceOhm / shownOhm);
  const how =
    times < 1.5
      ? ''
      : `, about ${Number(times.toPrecision(2))} times as ${shownOhm > resistanceOhm ? 'much' : 'little'}`;
  return `${say.ohms(rounded(fromOhm), rounded(toOhm))} was asked for, this is ${say.ohm(shownOhm)}${how}. Look at the figures and at the range of the meter; press again if it is on all the same.`;
}

export function askWords(ask: HandAsk, say: Notation, unit: string): AskWords {
  switch (ask.kind) {
    case 'put-on': {
      const made = ask.made === undefined ? undefined : madeWords(ask.made, say);
      const range = say.ohms(rounded(ask.fromOhm), rounded(ask.toOhm));
      return {
        head: `Put ${say.ohm(rounded(ask.resistanceOhm))} on`,
        how: `${made === undefined ? '' : `${made}. `}Anything from ${range} will do. Measure it first.`,
        done: 'It is on',
      };
    }
    case 'turn-to-most':
      return {
        head: 'Turn it to its most ohms',
        how: 'Nobody knows this gauge yet, so it begins there. Then switch the ignition on.',
        done: 'It is on',
      };
    case 'turn-to':
      return {
        head: `Turn to ${say.of(ask.reading, unit)}`,
        how:
          ask.leg === 'up'
            ? 'Slowly, the needle coming up from below. On the mark or near it is enough.'
            : 'Let it go past, then back: the needle comes down from above. Near the mark is enough.',
        done: `It sits near ${say.of(ask.reading, unit)}`,
      };
  }
}

const RANGE_FIGURES = 3;
const rounded = (ohm: number): number => Number(ohm.toPrecision(RANGE_FIGURES));

/** So far above the family's least ohms a good part of the dial is out of reach. */
const FAR_ABOVE = 1.3;

const milliamp = (amp: number): string => `${Math.round(1e3 * amp)} mA`;

/** Before the first step: what the tools can do and what they would carry. */
export function handPlanWords(plan: HandPlan, say: Notation): readonly string[] {
  if (plan.way === 'resistors') {
    const { settings, mostWatt, tooWeak, leastOhm } = plan;
    const made = settings.map(({ resistanceOhm }) => say.ohm(rounded(resistanceOhm)));
    return [
      ...(made.length === 0 ? [] : [`They make ${listed(made)}, and get ${tidy(mostWatt)} W at most.`]),
      `Nothing below ${say.ohm(rounded(leastOhm))} is put on by hand.`,
      ...tooWeak.map((each) => tooWeakWords(each, say)),
    ];
  }
  const { load, fixed, leastOhm, isFixedTooSmall } = plan;
  return [
    `Turned down, up to ${milliamp(load.amp)} may flow; its track bears ${milliamp(load.trackLargestAmp)} at every place.`,
    ...(isFixedTooSmall
      ? [`The fixed resistor must be ${say.ohm(leastOhm)} or more.`]
      : [`The fixed resistor gets ${tidy(load.seriesWatt)} W.`]),
    ...(fixed === undefined
      ? []
      : [
          `Put ${say.part(fixed.seriesOhm)}, ${fixed.seriesWatt} W or more, in series and leave it there.`,
          ...(fixed.seriesOhm > leastOhm * FAR_ABOVE
            ? [
                `Below ${say.part(fixed.seriesOhm)} nothing is then read: fewer ohms or more watts reach lower.`,
              ]
            : []),
        ]),
  ];
}
