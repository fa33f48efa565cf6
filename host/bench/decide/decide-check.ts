import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, EventBody, JobEvent, JobState } from '../../job';
import { contradictions, UNCHANGED_VOLT } from '../../job/check/contradictions';
import { measured } from '../../job/check/measured';
import { notAsked } from '../../job/check/not-asked';
import { sinceFault } from '../../job/check/since-fault';
import { ENGINE_CONTROLLER, SENDER_QUESTION } from '../../job/state/confirmations';
import { engineSensor } from '../box/hindrances';
import { concludeDiagnosed, noteTest, unaskable } from './decide-diagnosis';
import type { Decision } from './decision';
import { shorted } from './shorted';

type Job = { readonly state: JobState; readonly events: readonly JobEvent[] };
type Measured = Extract<EventBody, { kind: 'check-measured' }>;

/** Nothing is called sound over what was not asked, nor over what cannot be so. */
const conclude = ({ state, events }: Job, command: CommandOf<'conclude-check'>): Decision => {
  const facts = sinceFault(state, events);
  const missing = notAsked(facts);
  const [disagreement] = contradictions(facts);
  if (command.finding === 'sound' && disagreement !== undefined)
    return refuse('CHECK_CONTRADICTS', { disagreement: disagreement.says });
  if (command.finding === 'sound' && missing.length > 0) {
    return refuse('CHECK_NOT_WHOLE', { missing });
  }
  return [{ ...command, kind: 'check-concluded', notAsked: [...missing] }];
};

const addMeasurement = (state: JobState, command: CommandOf<'add-measurement'>): Decision => {
  const short = shorted(state, [command.loadOhm]);
  if (short !== undefined) return short;
  if (command.source === 'box') {
    return refuse('NOT_THE_BOX');
  }
  if (command.what.endsWith('ohm') && command.value < 0)
    return refuse('OHM_NEGATIVE', { valueOhm: command.value });
  return [{ ...command, kind: 'check-measured' }];
};

export type CheckCommand = CommandOf<
  'answer-check' | 'add-measurement' | 'note-test' | 'skip-test' | 'say-repaired' | 'conclude-check'
>;

/** Once it is said to feed the engine controller nobody makes it the gauge's by another answer. */
const whoseSensor = (state: JobState, { question, answer }: CommandOf<'answer-check'>): Refused | undefined =>
  question === SENDER_QUESTION && answer !== ENGINE_CONTROLLER ? engineSensor(state) : undefined;

/** What an answer, a figure or a conclusion of the check adds to the journal, or why not. Pure. */
export const decideCheck = (job: Job, command: CheckCommand): Decision => {
  switch (command.kind) {
    case 'answer-check':
      return whoseSensor(job.state, command) ?? [{ ...command, kind: 'check-answered' }];
    case 'add-measurement':
      return addMeasurement(job.state, command);
    case 'note-test':
      return noteTest(job.state, command);
    case 'skip-test':
      return unaskable(job.state) ?? [{ ...command, kind: 'check-skipped' }];
    case 'say-repaired':
      return [{ ...command, kind: 'repair-made' }];
    case 'conclude-check':
      return command.diagnosed === undefined
        ? conclude(job, command)
        : concludeDiagnosed(job.state, command, command.diagnosed);
  }
};

const millivolts = (volt: number): string => `${(1000 * volt).toFixed(1)} mV`;

/**
 * Whether the box's own look agrees with what it is told to be measuring: loads that are on move the ground. Refuses
 * LOADS_NOT_SEEN while nothing changed and nobody has said that they are on all the same, OFF_NOT_MEASURED while there
 * is nothing to compare with.
 */
export const loadsUnseen = (
  { state, events }: Job,
  { loads, saidOn }: CommandOf<'capture-measurement'>,
  body: Measured,
): Refused | undefined => {
  const isCompared = body.what === 'ground-offset-volt' && loads !== undefined && loads !== 'off';
  if (!isCompared || saidOn === true) return undefined;
  const off = measured(sinceFault(state, events), body.what, 'off');
  if (off === undefined) {
    return refuse('OFF_NOT_MEASURED', { loads });
  }
  if (Math.abs(body.value - off.value) >= UNCHANGED_VOLT) return undefined;
  return refuse('LOADS_NOT_SEEN', {
    loads,
    off: millivolts(off.value),
    now: millivolts(body.value),
  });
};
