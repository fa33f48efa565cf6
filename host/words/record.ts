import type { BudgetLine } from '../core/curve/types';
import type { DecisionRule } from '../core/proof/decision';
import type { Verdict } from '../job/proof/verdict';
import type { Leg } from '../job/schema/values';
import type { ProofPair } from '../job/state/state';
import type { Notation } from './notation';
import { counted } from './sentence';

/** What a record is, and what it is not. It stands on every sheet. */
export const NO_CERTIFICATE =
  'This is a record and no accredited certificate. It speaks of the parts named, on the dates given.';

export const SIMULATED_RECORD = 'SIMULATED: no vehicle was measured';

/** How error and uncertainty make a verdict. Source: ILAC-G8 and JCGM 106, in sentences. */
export const RULE_WORDS: Readonly<Record<DecisionRule, string>> = {
  guard:
    'Within, when error and its uncertainty together stay inside the limit. Outside, when both lie beyond it. Between, it cannot be told.',
  simple: 'Simple acceptance: the error alone is held to the limit, its uncertainty counts for neither side.',
  probability:
    'Within, when the chance of lying inside the limit is 95 % or more; outside, when that of lying beyond it is. Between, it cannot be told.',
};

/** What the figures after a plus-minus sign are. */
export const UNCERTAINTY_WORDS =
  'Every \u00b1 is an expanded uncertainty: the standard uncertainty times a coverage factor k, for a confidence of about 95 %.';

type Told = {
  readonly verdict: Verdict | undefined;
  readonly isWhole: boolean;
  readonly limit: number;
  readonly from: number;
  readonly to: number;
};

/** What the record comes to, in one line that a customer understands; undefined where nothing was proved. */
export function verdictSentence(
  { verdict, isWhole, limit, from, to }: Told,
  unit: string,
  say: Notation,
): string | undefined {
  if (verdict === undefined) return undefined;
  const size = say.spread(limit, unit);
  const where = from === to ? `at ${say.short(from, unit)}` : `from ${say.range(from, to, unit)}`;
  if (verdict === 'outside') return `Outside ${size}, as left.`;
  if (verdict === 'cannot-tell') return `It cannot be told whether it is within ${size}.`;
  return isWhole ? `Within ${size} ${where}, as left.` : `Within ${size} so far; the proof is not finished.`;
}

/** An uncertainty has two figures at most. Source: JCGM 100:2008 (GUM), 7.2.6. */
export const expandedWords = (size: number, unit: string, say: Notation): string =>
  say.spread(Number(size.toPrecision(2)), unit);

/** "Worst error found 4.0 degC high at 80 degC, +-1.9 degC (95 %, k = 2)." */
export const worstFoundWords = (
  worst: { readonly error: number; readonly at: number; readonly expanded: number | undefined },
  unit: string,
  say: Notation,
): string => {
  const size = worst.error === 0 ? 'none' : say.lowOrHigh(worst.error, unit);
  const known =
    worst.expanded === undefined
      ? '; the reference has no \u00b1'
      : `, ${expandedWords(worst.expanded, unit, say)} (95 %, k = 2)`;
  return `Worst error found: ${size} at ${say.short(worst.at, unit)}${known}.`;
};

export const asFoundWords = (
  worst: { readonly error: number; readonly at: number },
  unit: string,
  say: Notation,
): string =>
  worst.error === 0
    ? `As found it read right at ${say.short(worst.at, unit)}.`
    : `As found it read ${say.lowOrHigh(worst.error, unit)} at ${say.short(worst.at, unit)}.`;

/** Where an uncertainty comes from. */
export const BUDGET_WORDS: Readonly<Record<BudgetLine['source'], string>> = {
  fit: 'scatter of the readings about the curve',
  'law choice': 'which law the curve follows',
  'between settings': 'between two settings',
  hysteresis: 'needle rising against falling',
  reading: 'eye and slant of view',
  resistance: 'resistances in the sender\u2019s place',
  supply: 'supply',
  plateau: 'rounding of a flat stretch',
};

const WAY: Readonly<Record<Leg, string>> = { up: 'rising', down: 'falling' };
export const wayWords = (leg: Leg): string => WAY[leg];

/** How a pair was made: "rising", "rising, substituted: 30.4 ohm". */
export const pairWayWords = (
  { leg, method, substitute }: Pick<ProofPair, 'leg' | 'method' | 'substitute'>,
  say: Notation,
): string =>
  method === 'substituted' && substitute !== undefined
    ? `${WAY[leg]}, ${say.ohm(Number(substitute.resistanceOhm.toPrecision(4)))} in place`
    : WAY[leg];

/** Under a table of pairs. */
export const pairsWords = (unit: string, expanded: readonly number[], say: Notation): string => {
  const [least, most] = [Math.min(...expanded), Math.max(...expanded)];
  const where = unit === '' ? 'As the dial shows it' : `All in ${say.unit(unit)}`;
  if (expanded.length === 0) return `${where}. The references have no \u00b1.`;
  const size =
    Number(least.toPrecision(2)) === Number(most.toPrecision(2))
      ? expandedWords(most, unit, say)
      : `${expandedWords(least, unit, say)} to ${expandedWords(most, unit, say)}`;
  return `${where}. Each error ${size} (95 %, k = 2).`;
};

/** Photographs for which a record has no room. */
export const photographsKept = (titles: readonly string[]): string =>
  `Kept with the job, not shown here: ${titles.join(', ')}.`;

export const moreOnSheetTwo = (count: number, what: string): string =>
  `${counted(count, `more ${what}`, `more ${what}s`)} on the sheets that follow.`;

/** What was measured of a job that went no further. */
export const SO_FAR = {
  nothing: 'Nothing was measured yet.',
  checked: 'The wiring was checked; the gauge\u2019s curve was not measured.',
  curve: 'The gauge\u2019s curve was measured; nothing was proved in the vehicle.',
  begun: 'The proof is begun; none of its pairs counts.',
  chosen: 'A network was chosen; nothing was proved in the vehicle.',
} as const;

/** At the foot of a sheet that another one follows, where there are more than the usual two. */
export const CONTINUED = ', continued';

/** Said where a record takes more sheets than two. */
export const moreSheets = (count: number): string =>
  `${count} sheets to print: this job holds more than two sheets do`;

/** Whether a record belongs to a job, in a sentence. */
export const BELONGING = {
  same: 'This file is the record of the job as it stands, byte for byte.',
  sameData: 'These data are the record of the job as it stands.',
  current: 'The record belongs to the job, and nothing was entered since.',
  earlier: (count: number, kinds: string): string =>
    `The record belongs to the job; ${counted(count, 'entry', 'entries')} came after it: ${kinds}.`,
  altered:
    'The record bears the sum of this job, and it is not the file that this program makes of it: somebody altered it, or another build of this version made it. Make the record anew from the job.',
  otherProgram: (made: string): string =>
    `It was made by version ${made} of this program, so its own figures cannot be compared with what this version would write.`,
  noRecord:
    'this is no record of this program: a PDF file of "record --pdf", the data of "record --json", or what is printed beside Journal on the last sheet',
  otherJob: (of: string, here: string): string =>
    `the record is of the job ${of}, and this is the job ${here}`,
  changed: (entries: number, now: number): string =>
    `the record speaks of ${counted(entries, 'entry', 'entries')}, and the first ${entries} of this job (it has ${now}) are not those: the journal was changed or cut after the record was made, or the record is of another job`,
} as const;

/** What a record is about, under its title. */
export const SUBJECT_WORDS: Readonly<Record<string, string>> = {
  temperature: 'Temperature gauge, as found and as left',
  fuel: 'Fuel gauge, as found and as left',
  pressure: 'Pressure gauge, as found and as left',
  other: 'Gauge, as found and as left',
};
