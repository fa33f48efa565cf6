import { hasMeterFlag, limits, type Answer } from '../../../protocol';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, EventBody, JobState } from '../../job';
import type { Box } from '../box/box';
import { senderHindrance, wireHindrance } from '../box/hindrances';
import { OHMMETER_RANGES } from '../box/ohmmeter-ranges';
import { senderKind } from '../box/sender-kind';

const MICRO = 1_000_000;
const MILLI = 1_000;

/** One number out of the box's meter, in volts; a number whose flag is not set is not used. */
const voltOf = (
  what: CommandOf<'capture-measurement'>['what'],
  meter: Answer<'measure'>,
): number | Refused => {
  const flags = meter.meterFlags;
  switch (what) {
    case 'open-circuit-volt':
      return hasMeterFlag(flags, 'openCircuitKnown')
        ? meter.openCircuitMicrovolt / MICRO
        : refuse('NOT_MEASURED', { what: 'open-circuit' });
    case 'effective-volt':
      return hasMeterFlag(flags, 'heatKnown')
        ? meter.heatMicrovolt / MICRO
        : refuse('NOT_MEASURED', { what: 'heat' });
    case 'ripple-volt':
      return (meter.highMicrovolt - meter.lowMicrovolt) / MICRO;
    case 'ground-offset-volt':
      return hasMeterFlag(flags, 'groundOffsetKnown')
        ? meter.groundOffsetMicrovolt / MICRO
        : refuse('NOT_MEASURED', { what: 'ground-offset' });
    case 'supply-volt':
    case 'sender-wire-ohm':
    case 'sender-body-ohm':
    case 'sender-stud-volt':
    case 'gauge-ohm':
    case 'temperature-celsius':
    case 'sender-ohm':
    case 'loaded-volt':
      return refuse('BOX_CANNOT_MEASURE', { what });
  }
};

/** The sender alone on the clips: the box's ohmmeter refuses by itself while anything else feeds them. */
const senderOhm = async (box: Box, state: JobState): Promise<Measured | Refused> => {
  const hindrance = wireHindrance(state);
  if (hindrance !== undefined) return hindrance;
  const answer = await box.ohmmeter(senderKind(state), GENTLE_MICROAMP);
  if ('kind' in answer) return answer;
  return {
    kind: 'check-measured',
    what: 'sender-ohm',
    value: answer.milliohm / MILLI,
    standardUncertainty: answer.uncertaintyMilliohm / MILLI,
    source: 'box',
  };
};

type Measured = Extract<EventBody, { kind: 'check-measured' }>;

/** Measures at the box's terminals. Refuses what the box cannot know, with what to do. */
export const captureMeasurement = async (
  box: Box,
  state: JobState,
  command: CommandOf<'capture-measurement'>,
): Promise<Measured | Refused> => {
  if (command.what === 'sender-ohm') return senderOhm(box, state);
  const meter = await box.measure();
  if ('kind' in meter) return meter;
  const value = voltOf(command.what, meter);
  if (typeof value !== 'number') return value;
  const { what, loads, saidOn } = command;
  return {
    kind: 'check-measured',
    what,
    value,
    source: 'box',
    ...(loads === undefined ? {} : { loads }),
    ...(saidOn === undefined ? {} : { saidOn }),
  };
};

/** Lowest current the ohmmeter has: enough for any sender, and what a tank may see. */
const GENTLE_MICROAMP = OHMMETER_RANGES[1].microamp;

/** No more goes into a tank, whoever asks. Common practice, no source. */
const TANK_MICROAMP = 10_000;

/** Takes a sender's resistance with the box's ohmmeter, beside the person's thermometer. */
export const captureSenderPoint = async (
  box: Box,
  state: JobState,
  command: CommandOf<'capture-sender-point'>,
): Promise<EventBody | Refused> => {
  const hindrance = senderHindrance(state);
  if (hindrance !== undefined) return hindrance;
  const { kind, testMicroamp, ...told } = command;
  const asked = testMicroamp ?? GENTLE_MICROAMP;
  const { min, max: most } = limits.ohmmeterMicroamp;
  const max = state.gauge.quantity === 'fuel' ? Math.min(most, TANK_MICROAMP) : most;
  if (!(asked >= min && asked <= max)) {
    return refuse('TEST_CURRENT', { microamp: asked, lowestMicroamp: min, highestMicroamp: max });
  }
  const measured = await box.ohmmeter(senderKind(state), Math.round(asked));
  if ('kind' in measured) return measured;
  return {
    kind: 'sender-point',
    pointId: `p${state.lastN + 1}`,
    ...told,
    resistanceOhm: measured.milliohm / MILLI,
    resistanceUncertaintyOhm: measured.uncertaintyMilliohm / MILLI,
    testMicroamp: measured.currentMicroamp,
    source: 'box',
  };
};
