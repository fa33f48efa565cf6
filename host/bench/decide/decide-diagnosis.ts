import { causeRow, proofOf } from '../../core/diagnosis/causes';
import { usualLoads, type GaugeFamily } from '../../core/diagnosis/family';
import { isPossible, testRow } from '../../core/diagnosis/tests';
import type { TestName } from '../../core/diagnosis/names';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, JobState } from '../../job';
import { circuitOfJob, isDiagnosable, polarityOfJob } from '../../job/check/diagnosis-of-job';
import { testRange } from '../../job/check/test-facts';
import { dashHindrance, engineHindrance, wireHindrance } from '../box/hindrances';
import { causeWords, testName } from '../../words/diagnosis';
import { listed } from '../../words/sentence';
import type { Decision } from './decision';

export const unaskable = (state: JobState): Refused | undefined =>
  isDiagnosable(state) ? undefined : refuse('NOT_DIAGNOSABLE');

/** Why this test is not taken now, whoever asks. */
export function testHindrance(state: JobState, test: TestName): Refused | undefined {
  const circuit = circuitOfJob(state);
  if (circuit === undefined) return unaskable(state) ?? refuse('NOT_DIAGNOSABLE');
  const { family, way } = circuit.subject;
  if (!isPossible(test, family, way)) return refuse('TEST_NOT_OF_GAUGE', { test: testName(test) });
  const { access } = testRow(test);
  return (
    (access.includes('lead') ? wireHindrance(state) : undefined) ??
    (access.includes('dash') ? dashHindrance(state) : undefined) ??
    (isRunning(test, family.quantity) ? engineHindrance(state) : undefined)
  );
}

/** Read while the engine runs: with it hot, and where an oil gauge is watched while it is blipped. */
const isRunning = (test: TestName, quantity: GaugeFamily['quantity']): boolean =>
  test === 'as-found-warm' || (test === 'rocking' && quantity === 'pressure');

/** Nobody puts less on a sender wire than the lowest that a sender of its family has: a hot-wire gauge burns. */
function loadHindrance(state: JobState, { test, atOhm }: CommandOf<'note-test'>): Refused | undefined {
  const family = circuitOfJob(state)?.subject.family;
  if (family === undefined) return undefined;
  const { lowestOhm } = usualLoads(family);
  if (atOhm === undefined)
    return ON_THE_LOWEST.includes(test) ? refuse('LOAD_UNSAID', { lowestOhm }) : undefined;
  return atOhm < lowestOhm * (1 - OHM_ROOM) ? refuse('LOAD_TOO_LOW', { atOhm, lowestOhm }) : undefined;
}

/** Where a short would be told as a load. */
const ON_THE_LOWEST: readonly TestName[] = ['lowest-load', 'second-load'];
/** A resistor's own tolerance. */
const OHM_ROOM = 0.1;

export function noteTest(state: JobState, command: CommandOf<'note-test'>): Decision {
  const { test, value, source } = command;
  if (source === 'box') return refuse('NOT_THE_BOX');
  const { lowest, highest } = testRange(test);
  if (value < lowest || value > highest)
    return refuse('TEST_VALUE_IMPOSSIBLE', { test: testName(test), lowest, highest });
  return (
    testHindrance(state, test) ?? loadHindrance(state, command) ?? [{ ...command, kind: 'check-tested' }]
  );
}

type Diagnosed = NonNullable<CommandOf<'conclude-check'>['diagnosed']>;

/** Nothing is named before what would prove it was measured, since the last repair, whatever a page asks. */
export function concludeDiagnosed(
  state: JobState,
  command: CommandOf<'conclude-check'>,
  { verdict, causes, notMeasured }: Diagnosed,
): Decision {
  const circuit = circuitOfJob(state);
  if (circuit === undefined) return refuse('NOT_DIAGNOSABLE');
  const { family } = circuit.subject;
  const done = polarityOfJob(state).readings.map(({ test }) => test);
  const isNamed = verdict === 'is';
  for (const cause of isNamed ? causes : []) {
    const missing = proofOf(cause, family).filter((tests) => !tests.some((test) => done.includes(test)));
    const words = listed(missing.flatMap(([test]) => (test === undefined ? [] : [testName(test)])));
    if (missing.length > 0)
      return refuse('CONCLUSION_UNPROVED', {
        cause: causeWords(cause, causeRow(cause).part),
        missing: words,
      });
  }
  const isSound = command.finding === 'sound';
  const isFault = command.finding.endsWith('-fault') || command.finding.endsWith('-suspect');
  const fits = isNamed && causes.length > 0 && isSound === causes.includes('sound');
  if ((isSound || isFault) && !fits) {
    return refuse('CONCLUSION_UNPROVED', { cause: command.finding, missing: 'no cause is named' });
  }
  return [{ ...command, kind: 'check-concluded', notAsked: notMeasured.map(testName) }];
}
