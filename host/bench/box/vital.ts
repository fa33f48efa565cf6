import { hasMeterFlag, stateName, type Answer, type StateName } from '../../../protocol';

const MILLI = 1_000;
const MICRO = 1_000_000;

/** The box's last heartbeat in units a person reads; a number the meter does not vouch for is left out. */
export type Vital = {
  readonly atMs: number;
  readonly boxMs: number;
  readonly state: StateName | 'unknown';
  readonly faultCode: number;
  readonly volt?: number;
  readonly milliamp?: number;
  readonly measuredOhm?: number;
  /** What the contacts make by the box's own table. */
  readonly madeOhm: number;
  /** Limiter out, contacts at rest: the resistance asked for is there. */
  readonly isOutputMade: boolean;
  readonly isPulsing: boolean;
};

type HeartbeatFields = Answer<'heartbeat'>;
/** The meter reads many times a second; older volts and amps are not of now. */
const OLDEST_METER_MS = 1_000;

export const vitalOf = (fields: HeartbeatFields, atMs: number): Vital => {
  const flags = fields.meterFlags;
  // A meter that was never read sends the largest number there is.
  const isMeterRead = fields.meterAgeMs <= OLDEST_METER_MS;
  const isMeterAwake = isMeterRead && (hasMeterFlag(flags, 'settled') || hasMeterFlag(flags, 'outputMade'));
  return {
    atMs,
    boxMs: fields.boxMs,
    state: stateName(fields.state) ?? 'unknown',
    faultCode: fields.faultCode,
    ...(isMeterRead ? { volt: fields.terminalMicrovolt / MICRO } : {}),
    ...(isMeterAwake ? { milliamp: fields.currentMicroamp / MILLI } : {}),
    ...(hasMeterFlag(flags, 'resistanceKnown') ? { measuredOhm: fields.measuredMilliohm / MILLI } : {}),
    madeOhm: fields.madeMilliohm / MILLI,
    isOutputMade: hasMeterFlag(flags, 'outputMade') && !hasMeterFlag(flags, 'limiterInPath'),
    isPulsing: hasMeterFlag(flags, 'pulsing'),
  };
};
