import type { Candidate, Network, Offers, RuleSays } from '../core/network';
import type { OhmsAtMark } from './answer';
import { placeWords, ruleWords } from './network';
import type { Notation } from './notation';
import { counted, listed } from './sentence';

type Parts = Pick<Network, 'parts'>;

/** "18 ohm + 91 ohm", never broken within a value. */
export const partsSum = ({ parts }: Parts, say: Notation): string =>
  parts.map((part) => say.part(part.resistanceOhm).replace(' ', '\u00a0')).join(' + ');

/** "16 ohm in the sender lead and 1.5 kohm from the sender lead to ground". */
export const partsPlaced = ({ parts }: Parts, say: Notation): string =>
  listed(parts.map((part) => `${say.part(part.resistanceOhm)} ${placeWords[part.place]}`));

export type TrimSentence = {
  readonly network: Parts & Pick<Candidate, 'worstError'>;
  /** The worst error as it is, dial units. */
  readonly untrimmed: number;
  /** How far off is still right, by this job. */
  readonly limit: number;
  /** Nobody knows how much the gauge heats the sender: all of it holds for a cold one. */
  readonly isCold: boolean;
};

/** The whole answer: what to put where, and what it is good for. */
export function trimSentence(
  { network, untrimmed, limit, isCold }: TrimSentence,
  unit: string,
  say: Notation,
): string {
  const worst = say.spread(short(network.worstError), unit);
  if (network.parts.length === 0)
    return network.worstError <= limit
      ? `Leave it as it is: the worst error is ${worst}.`
      : `None of these parts makes it better: the worst error stays ${worst}.`;
  const holds = isCold ? 'with the sender cold the worst error' : 'the worst error';
  const from = say.spread(short(untrimmed), unit).replace(` ${say.unit(unit)}`, '');
  return `Put ${partsPlaced(network, say)}: ${holds} falls from ${from} to ${worst}.`;
}

/** Errors are told to two figures: nobody knows a third. */
const short = (value: number): number => Number(value.toPrecision(2));

export type ErrorsTold = {
  readonly limit: number;
  readonly from: number;
  readonly to: number;
  /** `inside`: with the uncertainty; `within-reach`: by the errors alone; `outside`: an error is beyond. */
  readonly reach: 'inside' | 'within-reach' | 'outside';
  readonly isCold: boolean;
  readonly highest: { readonly error: number; readonly at: number };
  readonly lowest: { readonly error: number; readonly at: number };
};

/** Whether this job would call the result right, and where it errs most to either side. */
export function errorsVerdict(told: ErrorsTold, unit: string, say: Notation): string {
  const limit = say.spread(told.limit, unit);
  const band = `from ${say.range(told.from, told.to, unit)}`;
  const cold = told.isCold ? 'With the sender cold: ' : '';
  const first = {
    inside: `${cold === '' ? 'Inside' : 'inside'} the ${limit} this job allows ${band}, uncertainty and all.`,
    'within-reach': `${cold === '' ? 'The' : 'the'} errors are inside the ${limit} this job allows ${band}; with their uncertainty it cannot be told.`,
    outside: `${cold === '' ? 'More' : 'more'} than the ${limit} this job allows at the proof.`,
  }[told.reach];
  const sides = [
    ...(told.highest.error > 0
      ? [`${say.number(short(told.highest.error))} high at ${say.number(short3(told.highest.at))}`]
      : []),
    ...(told.lowest.error < 0
      ? [`${say.number(short(-told.lowest.error))} low at ${say.number(short3(told.lowest.at))}`]
      : []),
  ];
  return `${cold}${first}${sides.length === 0 ? '' : ` Reads ${sides.join(', ')}.`}`;
}

const short3 = (value: number): number => Number(value.toPrecision(3));

/** Why no resistors can do it, to a customer. Keyed by the law that forbids it. */
const FORBIDDEN: Readonly<Record<string, string>> = {
  SENSE: 'The sender runs the other way.',
  SPAN_OHM: 'The ohms of the sender change too little.',
  SPAN_SIEMENS: 'The sender has too many ohms.',
  RATIO: 'The curve of the sender is not steep enough.',
};

export type NearestTold = {
  readonly nearest: Parts & Pick<Candidate, 'worstError'>;
  readonly withoutRule: (Parts & Pick<Candidate, 'worstError'>) | undefined;
  readonly rule: RuleSays | undefined;
  /** The worst error as it is, dial units. */
  readonly untrimmed: number;
};

/** What the nearest network keeps to, and what that costs; last, whether it is any better than no resistor. */
export function nearestSays(
  { nearest, withoutRule, rule, untrimmed }: NearestTold,
  unit: string,
  say: Notation,
): string[] {
  const spread = (error: number): string => say.spread(short(error), unit);
  return [
    ...(rule === undefined || rule.side === 'either'
      ? []
      : [`The nearest that keeps the rule: this gauge ${ruleWords(rule, unit, say)}.`]),
    ...(withoutRule === undefined
      ? []
      : [
          `Without that rule: ${partsSum(withoutRule, say) || 'no resistor'}, worst error ${spread(withoutRule.worstError)}.`,
        ]),
    ...(nearest.worstError < untrimmed
      ? []
      : [
          `It errs by ${spread(nearest.worstError)}, the sender as it is by ${spread(untrimmed)}: do not fit it.`,
        ]),
  ];
}

export const refusedSentence = (code: string): string =>
  `No resistors can do this.${FORBIDDEN[code] === undefined ? '' : ` ${FORBIDDEN[code]}`}`;

/** The law of circuits behind it, in a sentence. */
const LAWS: Readonly<Record<string, string>> = {
  SENSE: 'Resistors can only weaken a sender, never turn it round.',
  SPAN_OHM: 'Resistors round a sender can only make its ohms change less, never more.',
  SPAN_SIEMENS:
    'Counted in siemens (1 by ohm), resistors can only make a sender change less: one of fewer ohms is wanted.',
  RATIO: 'Resistors can only lower the ratio of the ohms at both ends, never raise it.',
};

export type RefusedEnds = {
  readonly code: string;
  readonly wants: readonly [OhmsAtMark, OhmsAtMark];
  readonly gives: readonly [OhmsAtMark, OhmsAtMark];
};

/** What the gauge wants, what the sender gives, and the law that stands between; undefined where no law does. */
export function refusedWords({ code, wants, gives }: RefusedEnds): string | undefined {
  const law = LAWS[code];
  if (law === undefined) return undefined;
  const both = ([low, high]: RefusedEnds['wants']): string =>
    `${low.ohm} at ${low.at} and ${high.ohm} at ${high.at}`;
  return `This gauge wants ${both(wants)}. This sender gives ${both(gives)}. ${law}`;
}

/** What lines of the picture are called where the two run opposite ways, or only apart. */
export const refusedLines = (
  gaugeRises: boolean,
  senderRises: boolean,
): readonly [gauge: string, sender: string] =>
  gaugeRises === senderRises
    ? ['what the gauge wants', 'what the sender gives']
    : [
        gaugeRises ? 'the gauge wants more' : 'the gauge wants fewer',
        senderRises ? 'the sender gives more' : 'the sender gives fewer',
      ];

/** A way that does work: what to do, and what one gets. */
export type WayOut = { readonly does: string; readonly gets: string };

export const otherSenderWay = (
  gaugeRises: boolean,
  usual: { readonly name: string; readonly says: string } | undefined,
): WayOut => ({
  does: `Fit a sender that ${gaugeRises ? 'rises' : 'falls'}`,
  gets:
    usual === undefined
      ? 'Any whose ohms run as this gauge wants them.'
      : `Nearest of the usual kinds: ${usual.name}. On this gauge it ${usual.says}.`,
});

export const turnedFloatWay = (worst: string): WayOut => ({
  does: 'Turn the float arm over',
  gets: `If the arm can be mounted on the other side, its ohms run the other way: the worst error is then about ${worst}, before any resistor.`,
});

export const newFiguresWay: WayOut = {
  does: 'Print new figures for the dial',
  gets: 'Keep gauge and sender: the figures go where the needle stands with this sender. Nothing is altered for good.',
};

export const converterWay: WayOut = {
  does: 'Put an electronic converter between them',
  gets: 'It turns one curve into another. It must bear the supply and the heat of a dash, and can fail like any part.',
};

/** What the offers hold, on their closed line. */
export const offersSays = ({ market, feed }: Pick<Offers, 'market' | 'feed'>): string =>
  listed([
    'the ohms that fit',
    ...(market.length === 0 ? [] : [`${counted(market.length, 'sender')} in circulation`]),
    ...(feed === undefined ? [] : ['other volts']),
    'a dial marked anew',
  ]);
