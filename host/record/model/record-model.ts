import type { DecisionRule } from '../../core/proof/decision';
import type { MarkResult } from '../../core/curve/types';
import type { Verdict } from '../../job/proof/verdict';
import type { Leg } from '../../job/schema/values';

/** What the record of a job is made of: figures in the unit that is shown, ohms, and sentences. Plain data. */
export type RecordModel = {
  readonly schema: 'needlewright/record/1';
  readonly jobId: string;
  readonly title: string;
  readonly simulated: boolean;
  readonly program: string;
  readonly journal: JournalSum;
  readonly unit: string;
  readonly quantity: string;
  /** Days of the first and of the last entry, yyyy-mm-dd. */
  readonly firstDay: string;
  readonly lastDay: string;
  readonly particulars: readonly Fact[];
  readonly shop: string | undefined;
  readonly vehicle: string;
  readonly customer: string | undefined;
  readonly found: Found;
  /** Every mark of the dial, low first; without ohms where no resistance puts the needle there. */
  readonly marks: readonly MarkRow[];
  readonly law: string | undefined;
  readonly budget: readonly BudgetRow[];
  readonly budgetAt: string | undefined;
  readonly readings: readonly ReadingRow[];
  readonly pairs: readonly PairRow[];
  readonly limit: number;
  /** The same with whose limit it is. */
  readonly limitWords: string;
  readonly rule: DecisionRule;
  readonly parts: readonly string[];
  readonly fitted: string | undefined;
  readonly failures: readonly FailureRow[];
  readonly whatIf: readonly Fact[];
  readonly ways: readonly Fact[];
  readonly senders: readonly SenderRow[];
  readonly checks: readonly Fact[];
  readonly notAsked: readonly string[];
  readonly said: readonly string[];
  readonly method: string;
  readonly instruments: readonly Fact[];
  readonly notes: readonly string[];
  readonly adjustments: readonly string[];
  readonly struck: readonly string[];
  /** Kept with the job; the record shows those for which it has room. */
  readonly photographs: readonly PhotographRow[];
};

export type PhotographRow = {
  readonly photographId: string;
  readonly title: string;
  readonly file: string;
  readonly sha256: string;
};

/** How many entries the record speaks of, and a sum over them that any change of one changes. */
export type JournalSum = { readonly entries: number; readonly sha256: string };

export type Fact = { readonly name: string; readonly value: string };

/** `sign`: what the record comes to. `sentence`: the same in words. `more`: what else a customer is told of it. */
export type Found = {
  readonly sign: Verdict | 'open' | 'refused';
  readonly sentence: string;
  readonly more: readonly string[];
  /** What can hurt somebody who drives on. */
  readonly dangers: readonly string[];
};

export type MarkRow = {
  readonly label: string;
  readonly reading: number;
  readonly resistanceOhm?: number;
  /** 95 %: standard uncertainty times the coverage factor. */
  readonly expandedUncertaintyOhm?: number;
  readonly coverageFactor?: number;
  readonly ground?: MarkResult['note'];
  /** What the sender in the vehicle gives there. */
  readonly senderOhm?: number;
};

/** Standard uncertainties, in the unit that is shown. */
export type BudgetRow = {
  readonly source: string;
  readonly curve?: number;
  readonly proof?: number;
  readonly kind: 'part' | 'combined' | 'factor' | 'expanded';
};

export type ReadingRow = {
  readonly number: number;
  readonly leg: Leg;
  readonly resistanceOhm: number;
  readonly reading: number;
  readonly residual?: number;
  readonly struckBecause?: string;
};

export type PairRow = {
  readonly state: string;
  readonly way: string;
  readonly reference: number;
  readonly referenceUncertainty?: number;
  readonly referencePlace?: string;
  readonly indicated: number;
  readonly error: number;
  readonly expandedUncertainty?: number;
  readonly verdict?: Verdict;
  readonly provesNothing?: string;
  readonly struckBecause?: string;
  readonly day: string;
  readonly by: string;
};

export type FailureRow = { readonly part: string; readonly needle: string; readonly danger?: string };

export type SenderRow = {
  readonly title: string;
  readonly about: readonly string[];
  readonly points: readonly { readonly value: string; readonly resistance: string }[];
};
