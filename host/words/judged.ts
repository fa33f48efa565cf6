import type { DecisionRule, Limits, PairWord } from '../core/proof/decision';
import type { Wanted } from '../core/proof/judge';
import type { Quantity } from '../core/response';
import { DANGER_WORDS, NEVER_WORDS } from '../job/proof/danger';
import type { Notation } from './notation';

export const PAIR_WORDS: Readonly<Record<PairWord, string>> = {
  within: 'within',
  'within-not-proved': 'within, not proved',
  'outside-not-proved': 'outside, not proved',
  outside: 'outside',
};

/** A decision rule as it is printed beside the verdict. */
export const RULE_WORDS: Readonly<Record<DecisionRule, string>> = {
  guard:
    'guard band as wide as the uncertainty: within when the error and its uncertainty stay inside the limit, outside when both lie beyond it, not proved between (ILAC-G8)',
  simple:
    'simple acceptance: the error alone against the limit, its uncertainty shared by both sides (ILAC-G8)',
  probability: 'within when the chance of being inside the limit is 95 % or more (JCGM 106)',
};

/** The rule in a few words. */
export const RULE_NAMES: Readonly<Record<DecisionRule, string>> = {
  guard: 'a guard band as wide as the uncertainty',
  simple: 'simple acceptance',
  probability: 'a chance of 95 %',
};

const side = (size: number, say: Notation): string =>
  `${size > 0 ? '+' : ''}${say.number(Number(size.toPrecision(3)))}`;

/** "-2 to +4 degC", or "±4 degC" where both sides are alike. */
export const limitsWords = ({ lower, upper }: Limits, unit: string, say: Notation): string =>
  Math.abs(lower + upper) <= 1e-9 * (upper - lower)
    ? say.spread(upper, unit)
    : `${side(lower, say)} to ${side(upper, say)} ${say.unit(unit)}`;

/** What a proof still wants, one thing to do a line. */
export const wantedWords = (wanted: Wanted, quantity: Quantity): string => {
  switch (wanted) {
    case 'three-places':
      return 'three places on the scale';
    case 'dangerous-end':
      return `${DANGER_WORDS[quantity]} by known ohms in the sender\u2019s place: ${NEVER_WORDS[quantity]}`;
    case 'both-ways':
      return 'one place read with the needle rising and with it falling';
    case 'rest':
      return '30 seconds or more between two pairs, so that the needle comes to rest';
    case 'times':
      return 'when each pair was read (column second): a needle needs 30 seconds to rest';
  }
};
