import {
  evidenceOf,
  expectedOf,
  loadOf,
  loadsOf,
  testRow,
  type Diagnosis,
  type TestName,
} from '../../core/diagnosis';
import {
  evidenceWords,
  expectationWords,
  POSITIVE_GROUND_WORDS,
  testName,
  testWords,
  verdictWords,
  whyWords,
} from '../../words/diagnosis';
import { plain } from '../../words/notation';
import { capital } from '../../words/sentence';
import type { AnswerOf } from './schemas';

const MOST_EVIDENCE = 6;

/** What is believed, why, and what to do next, for a person. */
export function checkText(found: Diagnosis, skipped: readonly TestName[]): string[] {
  const { next, belief, minutes, isPositiveGround } = found;
  const told = evidenceOf(found).filter(({ weight }) => weight !== 'little');
  return [
    verdictWords(found),
    ...(isPositiveGround ? [POSITIVE_GROUND_WORDS] : []),
    ...told.slice(0, MOST_EVIDENCE).map((each) => `  ${evidenceWords(each, plain)}`),
    ...(skipped.length === 0 ? [] : [`  Not looked at: ${skipped.map(testName).join('; ')}.`]),
    '',
    ...(next === undefined
      ? [`Nothing else is worth its minutes (${Math.round(minutes)} min so far).`]
      : [
          `Next: ${next.test} (about ${Math.max(1, Math.round(next.minutes))} min): ${whyWords(next.why)}.`,
          `  ${testWords(next.test, belief.cloud.subject, plain, isPositiveGround)}`,
          ...expectationWords(found, next.test, plain).map((line) => `  ${capital(line)}`),
        ]),
    ...(found.verdict === 'is' && !found.named.some(({ part }) => part === 'sound')
      ? ['Mend this, then check again from the start.']
      : []),
  ];
}

const UNITS = { place: '%', step: '%', volt: 'V', millivolt: 'mV', ohm: 'ohm', chance: 'yes or no' } as const;
const PER_CENT = 100;

const unitOf = (test: TestName): string => UNITS[testRow(test).measure];
const written = (test: TestName, value: number): number => (unitOf(test) === '%' ? PER_CENT * value : value);

/** The same for a program. */
export function checkJson(found: Diagnosis, skipped: readonly TestName[]): AnswerOf<'check'> {
  const { verdict, suspects, named, next, unproved, minutes, belief, prospects, isPositiveGround } = found;
  const loads = loadsOf(belief.cloud.subject);
  const expects = (test: TestName) =>
    suspects.slice(0, 2).map(({ part }) => {
      const { low, middle, high } = expectedOf(belief, test, part);
      return { part, low: written(test, low), middle: written(test, middle), high: written(test, high) };
    });
  return {
    schema: 'needlewright/check/1',
    kind: 'check',
    verdict,
    sentence: verdictWords(found),
    named: named.map(({ part, cause }) => ({ part, cause })),
    suspects: suspects.slice(0, 2).map(({ part, cause }) => ({ part, cause })),
    next:
      next === undefined
        ? null
        : {
            ...{ test: next.test, why: next.why, minutes: next.minutes, unit: unitOf(next.test) },
            load_ohm: loadOf(next.test, loads) ?? null,
            how: testWords(next.test, belief.cloud.subject, plain, isPositiveGround),
            expects: expects(next.test),
          },
    others: prospects.map(({ test, minutes: each }) => ({ test, minutes: each })),
    evidence: evidenceOf(found).map((each) => ({
      test: each.finding.test,
      value: written(each.finding.test, each.finding.value),
      unit: unitOf(each.finding.test),
      readings: each.finding.count,
      weight: each.weight,
      sound_gives: written(each.finding.test, each.sound.middle),
    })),
    unproved: unproved.map((tests) => [...tests]),
    not_looked_at: [...skipped],
    is_positive_ground: isPositiveGround,
    minutes,
  };
}
