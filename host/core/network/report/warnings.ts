import type { Remark } from '../../remark';
import { remark } from '../../remark';
import type { Failure } from './failures';
import { seenOhm } from '../closed-form/network-law';
import { workingOhm } from '../search/heat';
import { placeOf } from '../search/problem';
import type { TrimQuestion } from '../search/trim-question';
import type { Network, NetworkPart } from '../closed-form/topology';
import { feedsFor } from '../circuit/feeds';
import { isKnownTwoTerminal } from '../search/searched-forms';
import { powersIn } from '../circuit/power';

type Rated = NetworkPart & { readonly ratingWatt?: number; readonly powerWorstWatt: number };

/** Above this a network is asked to stand for resistances at which the needle was never watched. */
const BEYOND = 1.02;

const extrapolation = (question: TrimQuestion, network: Network): readonly Remark[] => {
  const { gauge } = question.problem.table;
  const { problem } = question;
  const seen = Array.from(problem.ohm, (_, index) =>
    seenOhm(network, workingOhm(problem.heat, network, placeOf(problem, index))),
  );
  const [lowest, highest] = [Math.min(...seen), Math.max(...seen)];
  return lowest < gauge.measuredFromOhm / BEYOND || highest > gauge.measuredToOhm * BEYOND
    ? [
        remark('NETWORK_EXTRAPOLATED', {
          ...{ seenFromOhm: lowest, seenToOhm: highest },
          ...{ measuredFromOhm: gauge.measuredFromOhm, measuredToOhm: gauge.measuredToOhm },
        }),
      ]
    : [];
};

const overload = (parts: readonly Rated[]): readonly Remark[] =>
  parts
    .filter((part) => part.ratingWatt === undefined)
    .map(({ place, powerWorstWatt }) => remark('PART_OVERLOADED', { place, powerWatt: powerWorstWatt }));

const dangerousFailures = (unit: string, failures: readonly Failure[]): readonly Remark[] =>
  failures.flatMap(({ place, fails, needle, hides }) =>
    hides === undefined ? [] : [remark('DANGEROUS_FAILURE', { place, fails, needle, hides, unit })],
  );

/** A resistor across the gauge draws more current through sender and stabiliser: said with the figures. */
const moreCurrent = (question: TrimQuestion, network: Network): readonly Remark[] => {
  if (network.topology !== 'gauge-shunt') return [];
  const { usual } = feedsFor(question.options);
  const lowest = Math.min(...question.problem.ohm);
  const withShunt = powersIn(network, usual, lowest).senderMilliamp;
  const without = powersIn({ topology: 'none', parts: [] }, usual, lowest).senderMilliamp;
  const unsure = isKnownTwoTerminal(question.options) ? [] : [remark('TWO_TERMINALS_NEEDED', {})];
  return [...unsure, remark('SENDER_CURRENT_RISES', { milliamp: withShunt, milliampBefore: without })];
};

/** What a person must be told about one network. Source: the figures of the candidate. */
export const candidateWarnings = (
  question: TrimQuestion,
  network: Network,
  found: { readonly parts: readonly Rated[]; readonly failures: readonly Failure[] },
): readonly Remark[] => [
  ...extrapolation(question, network),
  ...overload(found.parts),
  ...moreCurrent(question, network),
  ...dangerousFailures(question.problem.table.gauge.unit, found.failures),
];
