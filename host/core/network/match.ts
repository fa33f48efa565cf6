import type { GaugeResponse, SenderResponse } from '../response';
import type { Refusal } from '../refusal';
import type { HeatReport } from './report/heat-report';
import { heatReport } from './report/heat-report';
import { gaugeTable } from './search/gauge-table';
import type { GaugeTable } from './search/gauge-table';
import { plainScore } from './search/problem';
import { searchForm } from './search/search';
import { trimQuestionOf } from './search/trim-question';
import type { Network } from './closed-form/topology';
import { networkOf } from './closed-form/topology';
import type { TrimOptions } from './search/trim-options';

/** How one sender gets on with the gauge: as it is, and with the best network. Worst weighted errors, dial units. */
export type Match = {
  /** Index in the list of senders given. */
  readonly sender: number;
  readonly withoutNetwork: number;
  readonly withNetwork: number;
  readonly network: Network;
  /** True when the best network keeps the safety rule. */
  readonly keepsRule: boolean;
  /** What the sender's own heat does in this circuit, or why it is left out. */
  readonly heat: HeatReport;
};

/** Best first; senders that make no question (another unit, no common band) are told with their reason. */
export type Matched = {
  readonly kind: 'matched';
  readonly matches: readonly Match[];
  readonly unusable: readonly { readonly sender: number; readonly reason: Refusal }[];
};

/** Two resistors are enough to rank by; three add little (two ends fix the middle). */
const DEFAULT_MAX_PARTS = 2;
/** Coarser than for a design, to search a whole catalogue quickly; what is found is judged where `trim` judges it. */
const SEARCH_SAMPLES = 31;

const matchOne = (
  table: GaugeTable,
  sender: SenderResponse,
  options: TrimOptions,
  index: number,
): Match | Refusal => {
  const question = trimQuestionOf(table, sender, { samples: SEARCH_SAMPLES, ...options });
  if (question.kind === 'refused') return question;
  const judged = options.samples === undefined ? trimQuestionOf(table, sender, options) : question;
  if (judged.kind === 'refused') return judged;
  const { problem, parts } = question;
  const found = question.forms.flatMap((form) =>
    searchForm(problem, form, parts, 1).found.map((each) => ({ ...each, topology: form.topology })),
  );
  const best = found.reduce((one, other) => (other.score < one.score ? other : one));
  const network = networkOf(best.topology, best.partsOhm, parts.gaugeOhm);
  return {
    sender: index,
    withoutNetwork: plainScore(judged.problem, { topology: 'none', parts: [] }),
    withNetwork: plainScore(judged.problem, network),
    network,
    keepsRule: best.score <= problem.penalty,
    heat: heatReport(question),
  };
};

/**
 * Ranks senders for one gauge by the worst needle error left with the best network of up to two resistors (more on
 * request). Senders whose network keeps the safety rule come first.
 * Source: searchForm for each sender; the gauge is sampled once.
 * Refuses: what gaugeTable refuses.
 */
export const matchSenders = (
  gauge: GaugeResponse,
  senders: readonly SenderResponse[],
  options: TrimOptions = {},
): Matched | Refusal => {
  const table = gaugeTable(gauge);
  if (table.kind === 'refused') return table;
  const asked = { maxParts: DEFAULT_MAX_PARTS, ...options } as const;
  const answers = senders.map((sender, index) => ({ index, answer: matchOne(table, sender, asked, index) }));
  const matches = answers.flatMap(({ answer }) => ('kind' in answer ? [] : [answer]));
  return {
    kind: 'matched',
    matches: matches.sort(
      (one, other) =>
        Number(other.keepsRule) - Number(one.keepsRule) ||
        one.withNetwork - other.withNetwork ||
        one.sender - other.sender,
    ),
    unusable: answers.flatMap(({ index, answer }) =>
      'kind' in answer ? [{ sender: index, reason: answer }] : [],
    ),
  };
};
