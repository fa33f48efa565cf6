import {
  cloudsOf,
  diagnose,
  evidenceOf,
  loadOf,
  loadsOf,
  testNames,
  testRow,
  type Clouds,
  type Diagnosis,
  type Part,
  type Subject,
  type TestName,
} from '../../core/diagnosis';
import { boxMeasureOf } from '../../job/check/test-facts';
import type { AskedTest, DiagnosisFinding } from '../../job/findings';
import {
  causeWords,
  evidenceWords,
  POSITIVE_GROUND_WORDS,
  partWords,
  testName,
  testWords,
  verdictWords,
  whyWords,
} from '../../words/diagnosis';
import { dialWordsOf } from '../../words/dial-words';
import { beliefWord, remedyWords } from '../../words/diagnosis-remedies';
import { printed } from '../../words/notation';
import type { DiagnosisTask } from './tasks';

/** A cloud holds some 30 MB; more than one job is seldom under hand at once. */
const MOST_CLOUDS = 2;
const kept = new Map<string, Clouds>();

/** The same subject and seed give the same cloud; it is drawn once, which takes most of a second. */
function cloudsFor(subject: Subject, seed: number): Clouds {
  const key = JSON.stringify([subject, seed]);
  const known = kept.get(key) ?? cloudsOf(subject, seed);
  kept.delete(key);
  kept.set(key, known);
  const [oldest] = kept.keys();
  if (kept.size > MOST_CLOUDS && oldest !== undefined) kept.delete(oldest);
  return known;
}

const FINDING_OF: Readonly<Record<Part, DiagnosisFinding['finding']>> = {
  sound: 'sound',
  sender: 'sender-suspect',
  curve: 'sender-suspect',
  'sender-ground': 'ground-fault',
  'gauge-ground': 'ground-fault',
  wire: 'wire-fault',
  stabiliser: 'stabiliser-fault',
  supply: 'supply-fault',
  'shared-wire': 'wire-fault',
  gauge: 'gauge-suspect',
  'flat-zone': 'gauge-suspect',
};

const MOST_SUSPECTS = 4;
const LEAST_SHARE = 0.02;
const MOST_EVIDENCE = 8;

/** What the readings of a check come to, in words, and the next test. Runs in the computing thread. */
export function diagnosisFinding({ subject, seed, progress, gauge, ofN }: DiagnosisTask): DiagnosisFinding {
  const clouds = cloudsFor(subject, seed);
  const found = diagnose(clouds, progress);
  // Drawn while somebody measures, so that nobody waits for it.
  if (found.wantsPairs) setImmediate(clouds.withPairs);
  const { verdict, suspects, named, next, unproved, prospects, isPositiveGround } = found;
  const skipped = progress.skipped ?? [];
  const asked = (test: TestName, minutes: number): AskedTest =>
    askedTest(test, minutes, { subject, gauge, isPositiveGround });
  return {
    ...{ ofN, seed, verdict, way: subject.way },
    sentence: verdictWords(found),
    finding: findingOf(found),
    named: named.map(({ cause }) => ({ cause, remedy: remedyWords(cause) })),
    ...(next === undefined ? {} : { next: { ...asked(next.test, next.minutes), why: whyOf(found) } }),
    others: prospects
      .filter(({ test }) => test !== next?.test)
      .map(({ test, minutes }) => asked(test, minutes)),
    suspects: suspects
      .slice(0, MOST_SUSPECTS)
      .filter(({ share }) => share >= LEAST_SHARE)
      .map(({ part, cause, share }) => ({
        words: causeWords(cause, part),
        belief: named.some((each) => each.part === part) ? 'proved' : beliefWord(share),
        length: share,
      })),
    unproved: unproved.flatMap(([test]) => (test === undefined ? [] : [testName(test)])),
    evidence: [
      ...(isPositiveGround ? [POSITIVE_GROUND_WORDS] : []),
      ...evidenceOf(found)
        .slice(0, MOST_EVIDENCE)
        .map((each) => evidenceWords(each, printed, dialWordsOf(gauge))),
    ],
    notMeasured: testNames
      .filter((test) => skipped.includes(test))
      .map((test) => ({ test, name: testName(test) })),
  };
}

function askedTest(
  test: TestName,
  minutes: number,
  {
    subject,
    gauge,
    isPositiveGround,
  }: Pick<DiagnosisTask, 'subject' | 'gauge'> & { readonly isPositiveGround: boolean },
): AskedTest {
  const atOhm = loadOf(test, loadsOf(subject));
  const { measure, access } = testRow(test);
  return {
    ...{
      measure,
      access,
      isBoxAble: subject.way === 'box' && boxMeasureOf({ gauge }, test) !== undefined,
    },
    ...{
      test,
      minutes,
      name: testName(test),
      how: testWords(test, subject, printed, isPositiveGround),
    },
    ...(atOhm === undefined ? {} : { atOhm }),
  };
}

/** Which two it parts, or what it is for. */
function whyOf({ next, suspects }: Diagnosis): string {
  const [first, second] = suspects;
  if (next === undefined) return '';
  if (next.why !== 'tells-most' || first === undefined || second === undefined) return whyWords(next.why);
  return `it tells most for its minutes; so far it lies between ${partWords(first.part)} and ${partWords(second.part)}`;
}

function findingOf({ verdict, named }: Diagnosis): DiagnosisFinding['finding'] {
  const [first] = named;
  return verdict === 'is' && first !== undefined ? FINDING_OF[first.part] : 'undetermined';
}
