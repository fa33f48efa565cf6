import type { InPlace, InPlaceRefusal } from '../core/at-work';
import type { GaugeCurve } from '../core/curve/types';
import type { Trimmed, TrimRefused } from '../core/network';
import type { Refusal } from '../core/refusal';
import type { FittedSender } from '../core/sender';
import type { Access, CauseName, Measure, TestName, Verdict, Way } from '../core/diagnosis';
import type { HeatingFinding } from './proof/two-currents';
import type { Conclusion } from './state/state';
import type { Substitution, SubstitutionRefused } from './proof/substitution';

/** A point of a line to draw, with the ends of its 95 % band. */
export type LinePoint = {
  readonly x: number;
  readonly y: number;
  readonly low: number;
  readonly high: number;
};

/** What the readings say of the gauge: x = resistance in ohm, y = reading. */
export type CurveFinding = {
  readonly curve: GaugeCurve | Refusal;
  readonly line: readonly LinePoint[];
};

/** What the points say of one sender: x = value in the sender's unit, y = resistance in ohm. */
export type SenderFinding = {
  readonly senderId: string;
  readonly fitted: FittedSender | Refusal;
  readonly line: readonly LinePoint[];
  /** What parts within the stated tolerance may have; x and y as in the line. Left out where none is stated. */
  readonly tolerance?: readonly LinePoint[];
  /** The ohms it has at the dangerous end of the dial; left out while it has no curve. */
  readonly substitution?: Substitution | SubstitutionRefused;
  /** Left out until two currents were tried. */
  readonly heating?: HeatingFinding | Refusal;
  /** What it sheds in its place; left out until somebody measured it there. */
  readonly inPlace?: InPlace | InPlaceRefusal;
};

/** The error without any network, over the band: x = true value, y = indicated minus true, dial units. */
export type TrimFinding = {
  readonly trimmed: Trimmed | TrimRefused;
  /** Whose curve was refused, where it was a curve. */
  readonly of?: 'gauge' | 'sender';
  readonly before: readonly LinePoint[];
  /** Errors with senders at the ends of their stated tolerance, one list for each candidate; x, y as in `before`. */
  readonly tolerance?: {
    readonly percent: number;
    readonly bands: readonly (readonly LinePoint[])[];
  };
};

/** What something electrical is worth on the dial: in its units, as a part of its scale, and in words. */
export type DialWorth = {
  readonly size: number;
  readonly partOfScale: number;
  readonly words: string;
};

/** What the check's measurements are worth in dial units; ground offsets by the loads that were on. */
export type CheckFinding = {
  readonly groundWorth: {
    readonly off?: DialWorth;
    readonly lights?: DialWorth;
  };
  /** The ohms from the sender's body to battery negative. */
  readonly bodyWorth?: DialWorth;
  readonly lines: readonly string[];
};

/** One test that may be done now, in words. */
export type AskedTest = {
  readonly test: TestName;
  readonly name: string;
  readonly how: string;
  readonly measure: Measure;
  /** What must be opened for it. */
  readonly access: readonly Access[];
  readonly isBoxAble: boolean;
  readonly minutes: number;
  /** What is put on the sender wire. */
  readonly atOhm?: number;
};

/** What the readings of the check come to so far. Sentences are in the signs of the page. */
export type DiagnosisFinding = {
  /** Number of the newest entry it rests on. */
  readonly ofN: number;
  readonly seed: number;
  readonly way: Way;
  readonly verdict: Verdict;
  readonly sentence: string;
  readonly finding: Conclusion['finding'];
  /** What may be named, and how it is mended. */
  readonly named: readonly {
    readonly cause: CauseName;
    readonly remedy: string;
  }[];
  readonly next?: AskedTest & { readonly why: string };
  readonly others: readonly AskedTest[];
  /** What is believed, the likeliest first: a word, and a length without a figure. */
  readonly suspects: readonly {
    readonly words: string;
    readonly belief: string;
    readonly length: number;
  }[];
  readonly unproved: readonly string[];
  readonly evidence: readonly string[];
  readonly notMeasured: readonly {
    readonly test: TestName;
    readonly name: string;
  }[];
};

/** Everything that is computed from a job; all of it can be computed again from its journal. */
export type Findings = {
  readonly check?: CheckFinding;
  /** Left out where the check asks its list, and once it is concluded. */
  readonly diagnosis?: DiagnosisFinding;
  readonly curve?: CurveFinding;
  readonly senders: readonly SenderFinding[];
  readonly trim?: TrimFinding;
};
