import { offDialWords } from '../../dial';
import type { Powers } from '../circuit/power';
import { powersIn } from '../circuit/power';
import type { Problem } from '../search/problem';
import { seenOhm } from '../closed-form/network-law';
import type { TrimQuestion } from '../search/trim-question';
import type { Network, Place } from '../closed-form/topology';
import { feedsFor } from '../circuit/feeds';

/** One part failing one way, and what the person at the wheel then sees. */
export type Failure = {
  readonly place: Place;
  readonly resistanceOhm: number;
  readonly fails: 'open' | 'short';
  /** What the needle does, in words. */
  readonly needle: string;
  readonly indicatedAtFrom: number;
  readonly indicatedAtTo: number;
  /** True when the gauge then hides what its driver must see: low coolant heat, oil pressure or fuel that is not there. */
  readonly danger: boolean;
  /** Largest power in another part meanwhile, at the usual supply, watt. */
  readonly otherPartsWatt: number;
};

/** A needle that covers less of its band than this has stopped working. */
const STUCK_FRACTION = 0.05;

const failed = (network: Network, part: number, resistanceOhm: number): Network => ({
  ...network,
  parts: network.parts.map((each, index) => (index === part ? { ...each, resistanceOhm } : each)),
});

const dangers = {
  temperature: 'hides overheating',
  pressure: 'shows pressure that is not there',
  fuel: 'shows fuel that is not there',
  other: '',
} as const;

const off = (error: number, unit: string): string =>
  `${Math.abs(error).toPrecision(3)} ${unit} ${error < 0 ? 'low' : 'high'}`;

/** How far an error is beyond what the safety rule allows, dial units; 0 or less when it is allowed. */
const breach = (problem: Problem, index: number, error: number): number =>
  Math.max(problem.lowestError[index]! - error, error - problem.highestError[index]!);

/** Where no number is printed none is told: an end of the scale, or the stop on which the needle rests. */
const placeOffDial = (question: TrimQuestion, reading: number): string | undefined => {
  const { marks = [], unit, lowestReading, highestReading } = question.problem.table.gauge;
  const onStop =
    reading <= lowestReading ? 'on the low stop' : reading >= highestReading ? 'on the high stop' : undefined;
  return marks.length === 0 ? onStop : offDialWords(marks, unit, reading);
};

const needleWords = (question: TrimQuestion, shown: readonly number[], danger: boolean): string => {
  const { band, problem } = question;
  const { unit, quantity } = problem.table.gauge;
  const errors = shown.map((reading, index) => reading - problem.value[index]!);
  const judged = errors.map((error, index) => (danger ? breach(problem, index, error) : Math.abs(error)));
  const worst = judged.indexOf(Math.max(...judged));
  const [first, last] = [shown[0]!, shown.at(-1)!];
  const gone = placeOffDial(question, shown[worst]!);
  const does =
    Math.abs(last - first) < STUCK_FRACTION * (band.to - band.from)
      ? `stays ${placeOffDial(question, (first + last) / 2) ?? `near ${((first + last) / 2).toPrecision(3)} ${unit}`} whatever the sender does`
      : gone === undefined
        ? `reads up to ${off(errors[worst]!, unit)} (at ${problem.value[worst]!.toPrecision(3)})`
        : `goes ${gone} (at ${problem.value[worst]!.toPrecision(3)})`;
  return danger ? `${does}: ${dangers[quantity]}` : does;
};

const largest = (powers: readonly Powers[], part: number): number =>
  Math.max(0, ...powers.flatMap((each) => each.parts.filter((_, index) => index !== part)));

const failureOf = (
  question: TrimQuestion,
  network: Network,
  part: number,
  fails: 'open' | 'short',
): Failure => {
  const { problem, options } = question;
  const broken = failed(network, part, fails === 'open' ? Infinity : 0);
  const shown = Array.from(problem.ohm, (ohm) => problem.table.gauge.reading(seenOhm(broken, ohm)));
  const danger = shown.some((reading, index) => breach(problem, index, reading - problem.value[index]!) > 0);
  const feed = feedsFor(options).usual;
  const powers = Array.from(problem.ohm, (ohm) => powersIn(broken, feed, ohm));
  return {
    place: network.parts[part]!.place,
    resistanceOhm: network.parts[part]!.resistanceOhm,
    fails,
    needle: needleWords(question, shown, danger),
    indicatedAtFrom: shown[0]!,
    indicatedAtTo: shown.at(-1)!,
    danger,
    otherPartsWatt: largest(powers, part),
  };
};

/**
 * Every part failing open and shorted. Dangerous is what breaks the safety rule of the quantity.
 * Source: the network with that part at Infinity or 0, through the gauge curve.
 */
export const failuresOf = (question: TrimQuestion, network: Network): readonly Failure[] =>
  network.parts.flatMap((_, part) => [
    failureOf(question, network, part, 'open'),
    failureOf(question, network, part, 'short'),
  ]);
