import { seenOhm } from '../closed-form/network-law';
import { workingOhm } from '../search/heat';
import type { TrimQuestion } from '../search/trim-question';
import type { Network } from '../closed-form/topology';

/** The same network with the next sender out of the box: what it reads when its resistance is off by so much. */
export type Replacement = {
  readonly changePercent: number;
  readonly worstError: number;
  readonly worstAt: number;
  readonly errorAtFrom: number;
  readonly errorAtTo: number;
  readonly keepsRule: boolean;
};

/** A usual tolerance of gauge senders. Source: published sender specification, +/-10 % (15 % at the hot extreme). */
const REPLACEMENT_PERCENT = 10;

const replacementOf = (question: TrimQuestion, network: Network, changePercent: number): Replacement => {
  const { problem } = question;
  const errors = Array.from(problem.ohm, (ohm, index) => {
    const place = { value: problem.value[index]!, coldOhm: ohm * (1 + changePercent / 100) };
    const seen = seenOhm(network, workingOhm(problem.heat, network, place));
    return problem.table.gauge.reading(seen) - problem.value[index]!;
  });
  const sizes = errors.map(Math.abs);
  const worst = sizes.indexOf(Math.max(...sizes));
  return {
    changePercent,
    worstError: errors[worst]!,
    worstAt: problem.value[worst]!,
    errorAtFrom: errors[0]!,
    errorAtTo: errors.at(-1)!,
    keepsRule: errors.every(
      (error, index) => error >= problem.lowestError[index]! && error <= problem.highestError[index]!,
    ),
  };
};

/** Replacement senders 10 % low and 10 % high. Source: as above; the network stays as designed. */
export const replacementsOf = (question: TrimQuestion, network: Network): readonly Replacement[] => [
  replacementOf(question, network, -REPLACEMENT_PERCENT),
  replacementOf(question, network, REPLACEMENT_PERCENT),
];
