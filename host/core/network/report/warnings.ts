import type { Failure } from './failures';
import { seenOhm } from '../closed-form/network-law';
import type { TrimQuestion } from '../search/trim-question';
import type { Network, NetworkPart } from '../closed-form/topology';
import { feedsFor } from '../circuit/feeds';
import { isKnownTwoTerminal } from '../search/searched-forms';
import { powersIn } from '../circuit/power';

type Rated = NetworkPart & { readonly ratingWatt?: number; readonly powerWorstWatt: number };

/** Above this a network is asked to stand for resistances at which the needle was never watched. */
const BEYOND = 1.02;

const extrapolation = (question: TrimQuestion, network: Network): readonly string[] => {
  const { gauge } = question.problem.table;
  const seen = Array.from(question.problem.ohm, (ohm) => seenOhm(network, ohm));
  const [lowest, highest] = [Math.min(...seen), Math.max(...seen)];
  return lowest < gauge.measuredFromOhm / BEYOND || highest > gauge.measuredToOhm * BEYOND
    ? [
        `the gauge sees ${lowest.toPrecision(3)} to ${highest.toPrecision(3)} ohm, but was measured from ${gauge.measuredFromOhm.toPrecision(3)} to ${gauge.measuredToOhm.toPrecision(3)} ohm only: readings beyond are extrapolated`,
      ]
    : [];
};

const overload = (parts: readonly Rated[]): readonly string[] =>
  parts
    .filter((part) => part.ratingWatt === undefined)
    .map(
      (part) =>
        `the ${part.place} resistor may have to carry ${part.powerWorstWatt.toPrecision(2)} W: no ordinary part does that there; fuse it or mount it elsewhere`,
    );

const dangerousFailures = (failures: readonly Failure[]): readonly string[] =>
  failures
    .filter((failure) => failure.danger)
    .map(
      (failure) =>
        `if the ${failure.place} resistor goes ${failure.fails}, the gauge ${failure.needle}: solder or crimp it, relieve the strain, keep an independent warning lamp`,
    );

/** A resistor across the gauge draws more current through sender and stabiliser: said with the figures. */
const moreCurrent = (question: TrimQuestion, network: Network): readonly string[] => {
  if (network.topology !== 'gauge-shunt') return [];
  const { usual } = feedsFor(question.options);
  const lowest = Math.min(...question.problem.ohm);
  const withShunt = powersIn(network, usual, lowest).senderMilliamp;
  const without = powersIn({ topology: 'none', parts: [] }, usual, lowest).senderMilliamp;
  const unsure = isKnownTwoTerminal(question.options)
    ? []
    : ['this holds only if the gauge has two terminals, feed and sender: count them'];
  return [
    ...unsure,
    `the sender carries up to ${withShunt.toPrecision(3)} mA instead of ${without.toPrecision(3)} mA: it heats itself more, and a stabiliser feeding this gauge must bear the difference`,
  ];
};

/** What a person must be told about one network, in sentences. Source: the figures of the candidate. */
export const candidateWarnings = (
  question: TrimQuestion,
  network: Network,
  found: { readonly parts: readonly Rated[]; readonly failures: readonly Failure[] },
): readonly string[] => [
  ...extrapolation(question, network),
  ...overload(found.parts),
  ...moreCurrent(question, network),
  ...dangerousFailures(found.failures),
];
