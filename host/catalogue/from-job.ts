import type { JobEvent, JobState } from '../job';
import { senderNumbers } from '../job/state/views';
import { CARD_SCHEMA, type Card, type GaugeCard, type Licence, type SenderCard } from './card';
import type { Slip } from './statement';

/** What a card says that the job does not. */
export type Making = {
  /** SHA-256 of the first line of the journal. */
  readonly jobHash: string;
  readonly program: string;
  readonly licence: Licence;
};

type Reading = JobState['readings'][number];
type Found = NonNullable<Card['found']>;

/** A curve of fewer readings is none. */
const FEWEST_READINGS = 3;

/**
 * The cards of a job: one for the gauge as found, one as left (one alone where nobody said which), one for each sender.
 * Readings of sweeps that are not finished stay out; struck ones go along with their reason and count for nothing.
 * Raw readings only. Empty where nothing is finished.
 */
export function cardsFromJob(job: JobState, events: readonly JobEvent[], making: Making): Card[] {
  return [...gaugeCards(job, events, making), ...senderCards(job, making)];
}

/** What the job knows and no card says. Undefined where it knows nothing of the kind. */
export function slipFromJob({ particulars, vehicle }: JobState): Slip | undefined {
  const { customer, registration, technician, gaugeSerialNumber } = particulars ?? {};
  const slip: Slip = {
    ...(customer === undefined ? {} : { owner: customer }),
    ...(registration === undefined ? {} : { registration }),
    ...(technician === undefined ? {} : { technician }),
    ...(gaugeSerialNumber === undefined ? {} : { serial_number: gaugeSerialNumber }),
    note: `Vehicle: ${vehicle}`,
  };
  return slip;
}

function gaugeCards(job: JobState, events: readonly JobEvent[], making: Making): GaugeCard[] {
  const finished = job.sweeps.filter(({ status }) => status.kind === 'finished');
  const states = [...new Set(finished.map((sweep) => sweep.state))];
  return states.flatMap((found) => {
    const sweeps = new Set(finished.filter(({ state }) => state === found).map(({ sweepId }) => sweepId));
    const readings = job.readings.filter(({ sweepId }) => sweeps.has(sweepId));
    const counted = readings.filter(({ struckBecause }) => struckBecause === undefined);
    if (counted.length < FEWEST_READINGS) return [];
    const dashCelsius = finished.find(({ state }) => state === found)?.dashCelsius;
    return [gaugeCard(job, { readings, found, dashCelsius, events, making })];
  });
}

type Measured = {
  readonly readings: readonly Reading[];
  readonly found: Found | undefined;
  readonly dashCelsius: number | undefined;
  readonly events: readonly JobEvent[];
  readonly making: Making;
};

function gaugeCard(job: JobState, { readings, found, dashCelsius, events, making }: Measured): GaugeCard {
  const { gauge } = job;
  const neighbours = Math.max(0, ...readings.map((one) => one.neighbours?.length ?? 0));
  return {
    schema: CARD_SCHEMA,
    kind: 'gauge',
    quantity: gauge.quantity,
    unit: gauge.unit,
    ...described(job),
    marks: gauge.marks.map(({ label, reading, angleFraction }) => ({
      label,
      reading,
      angle_fraction: angleFraction,
    })),
    ...(gauge.divisionReading === undefined ? {} : { division: gauge.divisionReading }),
    mechanism: gauge.mechanism,
    ...(gauge.terminals === undefined ? {} : { terminals: gauge.terminals }),
    ...(gauge.family === undefined
      ? {}
      : { family_ohm: { low_end: gauge.family.lowEndOhm, high_end: gauge.family.highEndOhm } }),
    points: readings.map(pointOf),
    conditions: {
      place: job.place,
      ...(dashCelsius === undefined ? {} : { dash_C: dashCelsius }),
      ...(neighbours === 0 ? {} : { neighbours }),
    },
    ...instrumentOf(readings, events),
    ...(found === undefined ? {} : { found }),
    measured_at: readings.at(-1)?.at ?? job.lastAt,
    by: job.simulated ? 'simulated-person' : 'person',
    ...madeFrom(job, making),
  };
}

const pointOf = (one: Reading): GaugeCard['points'][number] => ({
  resistance_ohm: one.resistanceOhm,
  reading: one.reading,
  leg: one.leg,
  ...(one.atStop === undefined ? {} : { at_stop: one.atStop }),
  ...(one.readingUncertainty === undefined ? {} : { u_reading: one.readingUncertainty }),
  u_ohm: one.uncertaintyOhm,
  ...(one.supplyVolt === undefined ? {} : { supply_V: one.supplyVolt }),
  ...(one.supplyAt === undefined ? {} : { supply_at: one.supplyAt }),
  ...(one.currentMilliamp === undefined ? {} : { current_mA: one.currentMilliamp }),
  waited_s: one.waitedMs / 1000,
  method: one.method,
  ...(one.struckBecause === undefined ? {} : { struck: one.struckBecause }),
});

/** The box that was connected last before the first of these readings, or the meter of a sweep by hand. */
function instrumentOf(
  readings: readonly Reading[],
  events: readonly JobEvent[],
): Pick<GaugeCard, 'instrument'> {
  const first = Math.min(...readings.map(({ n }) => n));
  const meter = readings.find((one) => one.source === 'hand')?.ohmmeter?.name;
  if (meter !== undefined) return { instrument: { meter } };
  for (const event of [...events].reverse()) {
    if (event.kind !== 'box-connected' || event.n > first) continue;
    return {
      instrument: {
        box_serial: event.boxSerial,
        calibration_id: event.calibrationId,
        calibration_day: event.calibrationDay,
        firmware: event.firmware,
      },
    };
  }
  return {};
}

function senderCards(job: JobState, making: Making): SenderCard[] {
  return job.senders.flatMap((sender) => {
    const { senderId, title, unit } = sender;
    const { part } = senderNumbers(job, sender);
    const points = job.senderPoints.filter((point) => point.senderId === senderId);
    if (points.filter(({ struckBecause }) => struckBecause === undefined).length < FEWEST_READINGS) return [];
    const meter = points.find(({ ohmmeter }) => ohmmeter !== undefined)?.ohmmeter?.name;
    return [
      {
        schema: CARD_SCHEMA,
        kind: 'sender' as const,
        quantity: job.gauge.quantity,
        unit,
        description: part === undefined ? title : `${title}, part ${part}`,
        points: points.map((one) => ({
          value: one.value,
          resistance_ohm: one.resistanceOhm,
          ...(one.valueUncertainty === undefined ? {} : { u_value: one.valueUncertainty }),
          ...(one.resistanceUncertaintyOhm === undefined ? {} : { u_ohm: one.resistanceUncertaintyOhm }),
          ...(one.struckBecause === undefined ? {} : { struck: one.struckBecause }),
        })),
        ...(meter === undefined ? {} : { instrument: { meter } }),
        measured_at: points.at(-1)?.at ?? job.lastAt,
        ...madeFrom(job, making),
      },
    ];
  });
}

/** Title and part number: what the part is called. Vehicle, owner and plate stay on the slip. */
function described({ title, particulars }: JobState): Pick<Card, 'description'> {
  const part = particulars?.gaugePartNumber;
  return { description: part === undefined ? title : `${title}, part ${part}` };
}

const madeFrom = (job: JobState, { jobHash, program, licence }: Making) => ({
  made_from: { job: jobHash, program },
  licence,
  simulated: job.simulated,
});
