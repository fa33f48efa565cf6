import { offScale } from '../../dial';
import type { OffScale } from '../../dial';
import type { Quantity } from '../../response';
import type { FailedNeedle, Hidden } from '../remarks';
import type { Powers } from '../circuit/power';
import { powersIn } from '../circuit/power';
import { workingOhm } from '../search/heat';
import type { Problem } from '../search/problem';
import { placeOf } from '../search/problem';
import { seenOhm } from '../closed-form/network-law';
import type { TrimQuestion } from '../search/trim-question';
import type { Network, Place } from '../closed-form/topology';
import { feedsFor } from '../circuit/feeds';

/** One part failing one way, and what the person at the wheel then sees. */
export type Failure = {
  readonly place: Place;
  readonly resistanceOhm: number;
  readonly fails: 'open' | 'short';
  readonly needle: FailedNeedle;
  readonly indicatedAtFrom: number;
  readonly indicatedAtTo: number;
  /** True when the gauge then hides what its driver must see: heat, lost oil pressure or an empty tank. */
  readonly danger: boolean;
  /** What it hides, where there is danger. */
  readonly hides?: Hidden;
  /** Largest power in another part meanwhile, at the usual supply, watt. */
  readonly otherPartsWatt: number;
};

/** A needle that covers less of its band than this has stopped working. */
const STUCK_FRACTION = 0.05;

const failed = (network: Network, part: number, resistanceOhm: number): Network => ({
  ...network,
  parts: network.parts.map((each, index) => (index === part ? { ...each, resistanceOhm } : each)),
});

const hiddenBy: Readonly<Record<Quantity, Hidden>> = {
  temperature: 'overheating',
  pressure: 'no-pressure',
  fuel: 'empty-tank',
  other: 'unknown',
};

/** How far an error is beyond what the safety rule allows, dial units; 0 or less when it is allowed. */
const breach = (problem: Problem, index: number, error: number): number =>
  Math.max(problem.lowestError[index]! - error, error - problem.highestError[index]!);

/** Where no number is printed none is told: an end of the scale, or the stop on which the needle rests. */
const placeOffScale = (question: TrimQuestion, reading: number): OffScale | undefined => {
  const { marks = [], lowestReading, highestReading } = question.problem.table.gauge;
  if (marks.length > 0) return offScale(marks, reading);
  if (reading <= lowestReading) return { side: 'low', isOnStop: true };
  return reading >= highestReading ? { side: 'high', isOnStop: true } : undefined;
};

const needleOf = (question: TrimQuestion, shown: readonly number[], danger: boolean): FailedNeedle => {
  const { band, problem } = question;
  const errors = shown.map((reading, index) => reading - problem.value[index]!);
  const judged = errors.map((error, index) => (danger ? breach(problem, index, error) : Math.abs(error)));
  const worst = judged.indexOf(Math.max(...judged));
  const [first, last] = [shown[0]!, shown.at(-1)!];
  const middle = (first + last) / 2;
  if (Math.abs(last - first) < STUCK_FRACTION * (band.to - band.from))
    return { does: 'stays', at: placeOffScale(question, middle) ?? middle };
  const to = placeOffScale(question, shown[worst]!);
  const atValue = problem.value[worst]!;
  return to === undefined
    ? { does: 'misreads', error: errors[worst]!, atValue }
    : { does: 'leaves-scale', to, atValue };
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
  const ohms = Array.from(problem.ohm, (_, index) =>
    workingOhm(problem.heat, broken, placeOf(problem, index)),
  );
  const shown = ohms.map((ohm) => problem.table.gauge.reading(seenOhm(broken, ohm)));
  const danger = shown.some((reading, index) => breach(problem, index, reading - problem.value[index]!) > 0);
  const feed = feedsFor(options).usual;
  const powers = ohms.map((ohm) => powersIn(broken, feed, ohm));
  return {
    place: network.parts[part]!.place,
    resistanceOhm: network.parts[part]!.resistanceOhm,
    fails,
    needle: needleOf(question, shown, danger),
    indicatedAtFrom: shown[0]!,
    indicatedAtTo: shown.at(-1)!,
    danger,
    ...(danger ? { hides: hiddenBy[problem.table.gauge.quantity] } : {}),
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
