import {
  believe,
  bestWith,
  expectedShare,
  findingsOf,
  partsBelieved,
  slipShare,
  type Belief,
  type Finding,
  type Reading,
} from './belief';
import { proofOf } from './causes';
import type { CauseName, Part, TestName } from './names';
import { cloudOf, cloudWithPairs, type Cloud, type Subject } from './cloud';
import { accessOf, minutesOf, prospects, type Prospect } from './next-test';
import { polarityOf } from './polarity';
import { testRow, type Access } from './tests';

/** What was done so far: readings in their order, what cannot be done, and what a shut gate forbids now. */
export type Progress = {
  readonly readings: readonly Reading[];
  readonly skipped?: readonly TestName[];
  readonly shut?: readonly TestName[];
};

/** How sure: proved and said; likely; one of two; nothing fits; all was tried. */
export type Verdict = 'is' | 'most-likely' | 'between' | 'no-circuit';

/** Why a test is next. */
export type Why = 'tells-most' | 'proves' | 'read-again' | 'third-reading' | 'sign';

export type Suspect = { readonly part: Part; readonly share: number; readonly cause: CauseName };

export type Diagnosis = {
  readonly kind: 'diagnosis';
  readonly verdict: Verdict;
  /** The likeliest parts, best first. */
  readonly suspects: readonly Suspect[];
  /** Everything that may be named now: one part, or both of a pair. */
  readonly named: readonly Suspect[];
  /** Undefined when it is over. */
  readonly next: { readonly test: TestName; readonly why: Why; readonly minutes: number } | undefined;
  /** Tests that could be done now, the most telling first. */
  readonly prospects: readonly Prospect[];
  /** What must still be measured before the likeliest part may be named; of each list one. */
  readonly unproved: readonly (readonly TestName[])[];
  readonly minutes: number;
  readonly findings: readonly Finding[];
  readonly belief: Belief;
  /** The battery's positive post is ground: a fact of the vehicle. */
  readonly isPositiveGround: boolean;
  /** No single cause fits: two at once are weighed next. Whoever has time draws that cloud before it is asked for. */
  readonly wantsPairs: boolean;
};

const SURE = 0.95;
const LIKELY = 0.8;
/** Nothing that tells less a minute is worth a person's time. */
const LEAST_WORTH = 0.004;
const MOST_MINUTES = 60;
/** What 95 % of belief did not expect is read again first. */
const UNEXPECTED = 0.05;
/** A yes or no that is less likely than this is asked again: so many are mistaken. */
const UNEXPECTED_ANSWER = 0.1;
/** Nobody does it twice for a doubt, minutes. */
const TOO_LONG_AGAIN = 10;
/** So often is tried what may jump by chance. */
const MOST_TRIES = 2;
/** So many findings taken for slips: no single cause explains what was read. */
const MISFIT = 0.8;

/** A cloud with pairs is drawn only where no single cause fits; each is drawn once. */
export type Clouds = { readonly single: Cloud; readonly withPairs: () => Cloud };

/** The clouds of a subject; the same seed draws the same. */
export function cloudsOf(subject: Subject, seed: number): Clouds {
  let pairs: Cloud | undefined;
  return { single: cloudOf(subject, seed), withPairs: () => (pairs ??= cloudWithPairs(subject, seed)) };
}

/** What is believed of a vehicle after these readings, and what to do next. */
export function diagnose(clouds: Clouds, given: Progress): Diagnosis {
  const polarity = polarityOf(given.readings, given.skipped ?? []);
  const progress = { ...given, readings: polarity.readings };
  const findings = findingsOf(clouds.single, progress.readings);
  const alone = believe(clouds.single, findings);
  const misfit = findings.reduce((sum, finding) => sum + slipShare(alone, finding), 0);
  const wantsPairs = misfit > MISFIT;
  // A value that fits nothing is read again first; pairs explain what stays.
  const isOdd =
    wantsPairs && readAgain(progress.readings, { belief: alone, findings, closed: closedOf(progress) });
  const belief = wantsPairs && !isOdd ? believe(clouds.withPairs(), findings) : alone;
  const isLost = belief !== alone && misfitOf(belief, findings) > 2 * MISFIT;
  const found = { ...conclude(belief, findings, progress, isLost), wantsPairs };
  const { isPositiveGround, asks } = polarity;
  const isAsked = asks !== undefined && !closedOf(progress).has(asks);
  return isAsked ? askedFirst(found, asks) : { ...found, isPositiveGround };
}

/** Before a sign is explained nothing is named by what else was read. */
const askedFirst = (found: Concluded, test: TestName): Diagnosis => ({
  ...found,
  isPositiveGround: false,
  verdict: found.verdict === 'is' ? 'most-likely' : found.verdict,
  named: [],
  next: { test, why: 'sign', minutes: testRow(test).minutes },
});

type Concluded = Omit<Diagnosis, 'isPositiveGround'>;
type Alone = Omit<Concluded, 'wantsPairs'>;

/** What nobody can do, or may not now. */
const closedOf = ({ skipped = [], shut = [] }: Progress): ReadonlySet<TestName> =>
  new Set([...skipped, ...shut]);

const misfitOf = (belief: Belief, findings: readonly Finding[]): number =>
  findings.reduce((sum, finding) => sum + slipShare(belief, finding), 0);

function conclude(belief: Belief, findings: readonly Finding[], progress: Progress, isLost: boolean): Alone {
  const suspects = suspectsOf(belief);
  const isThermal = belief.cloud.subject.family.kind === 'thermal';
  const paid = accessOf(findings.map(({ test }) => test));
  const closed = closedOf(progress);
  const open = belief.cloud.tests.filter(
    (test) =>
      !closed.has(test) && findings.every((finding) => finding.test !== test || isWorthAnother(finding)),
  );
  const able = prospects(belief, open, paid);
  const minutes = minutesSpent(progress.readings, isThermal);
  const [first] = suspects;
  const unproved = first === undefined ? [] : unprovedOf(belief, findings, first);
  const named = suspects.filter(
    (each) => each.share >= SURE && unprovedOf(belief, findings, each).length === 0,
  );
  const state = { belief, findings, able, closed, minutes, paid };
  const again = readAgain(progress.readings, state);
  const isNamed = named.length > 0 && again === undefined;
  return {
    kind: 'diagnosis',
    verdict: isNamed
      ? 'is'
      : isLost
        ? 'no-circuit'
        : (first?.share ?? 0) >= LIKELY
          ? 'most-likely'
          : 'between',
    suspects,
    named: isNamed ? named : [],
    next: again ?? (isNamed ? undefined : nextOf(state, first, unproved)),
    ...{ prospects: able, unproved, minutes, findings, belief },
  };
}

const isWorthAnother = ({ test, count }: Finding): boolean => testRow(test).isAnew && count < MOST_TRIES;

type Standing = {
  readonly belief: Belief;
  readonly findings: readonly Finding[];
  readonly able: readonly Prospect[];
  readonly closed: ReadonlySet<TestName>;
  readonly minutes: number;
  readonly paid: ReadonlySet<Access>;
};

const suspectsOf = (belief: Belief): readonly Suspect[] =>
  partsBelieved(belief).flatMap(({ part, share }) => {
    const best = bestWith(belief, part);
    const cause = best?.causes[best.parts.indexOf(part)];
    return cause === undefined ? [] : [{ part, share, cause }];
  });

/** A measurement counts as proof unless the part it should prove takes it for a wrong reading. */
function unprovedOf(
  belief: Belief,
  findings: readonly Finding[],
  { part, cause }: Suspect,
): readonly (readonly TestName[])[] {
  const { family } = belief.cloud.subject;
  return proofOf(cause, family).filter(
    (tests) =>
      !findings.some(
        (finding) =>
          tests.includes(finding.test) && !finding.isSplit && slipShare(belief, finding, part) < 0.5,
      ),
  );
}

/** The newest reading, where hardly any belief had expected it, or where two of one test do not agree. */
function readAgain(
  readings: readonly Reading[],
  { belief, findings, closed }: Pick<Standing, 'belief' | 'findings' | 'closed'>,
): Diagnosis['next'] {
  const split = findings.find(({ test, isSplit }) => isSplit && !closed.has(test));
  const isThermal = belief.cloud.subject.family.kind === 'thermal';
  const minutes = (test: TestName): number => minutesOf(test, isThermal, accessOf([test])).test;
  const timesRead = (test: TestName): number => readings.filter((each) => each.test === test).length;
  if (split !== undefined && timesRead(split.test) < 3)
    return { test: split.test, why: 'third-reading', minutes: minutes(split.test) };
  const newest = findings.find(({ test }) => test === readings.at(-1)?.test);
  if (newest === undefined || newest.count > 1 || newest.isSplit || closed.has(newest.test)) return undefined;
  const { measure, minutes: long } = testRow(newest.test);
  if (long >= TOO_LONG_AGAIN) return undefined;
  const before = believe(
    belief.cloud,
    findings.filter((each) => each !== newest),
  );
  return expectedShare(before, newest) < (measure === 'chance' ? UNEXPECTED_ANSWER : UNEXPECTED)
    ? { test: newest.test, why: 'read-again', minutes: minutes(newest.test) }
    : undefined;
}

function nextOf(
  { able, minutes }: Standing,
  first: Suspect | undefined,
  unproved: readonly (readonly TestName[])[],
): Diagnosis['next'] {
  if (minutes >= MOST_MINUTES) return undefined;
  const pick = (list: readonly Prospect[], why: Why): Diagnosis['next'] => {
    const [best] = list;
    return best === undefined ? undefined : { test: best.test, why, minutes: best.minutes };
  };
  if (first !== undefined && first.share >= SURE) {
    const proving = able.filter(({ test }) => unproved.some((tests) => tests.includes(test)));
    const cheapest = [...proving].sort((one, two) => one.minutes - two.minutes);
    const proof = pick(cheapest, 'proves');
    if (proof !== undefined) return proof;
  }
  return pick(
    able.filter(({ worth }) => worth >= LEAST_WORTH),
    'tells-most',
  );
}

/** Minutes of all readings, access paid once. */
function minutesSpent(readings: readonly Reading[], isThermal: boolean): number {
  const done: TestName[] = [];
  let sum = 0;
  for (const { test } of readings) {
    const { test: own, access } = minutesOf(test, isThermal, accessOf(done));
    sum += own + access;
    done.push(test);
  }
  return sum;
}
