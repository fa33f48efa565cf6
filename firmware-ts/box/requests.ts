import { elementKinds, faults, jobKindName, limits } from '../../protocol';
import type { Answer, AnyRequest, Fields } from '../../protocol';
import { ohmmeter } from '../board/reference-design';
import { storeCalibration } from '../calibration/store';
import { jobLimits, tightened } from '../guard/job-limits';
import { ratedLimitMilliwatt } from '../guard/power';
import { weldedMicroamp } from '../guard/welded';
import { bitOfRow, isOutputClosed, limiterRow, residualRow, rowCount } from '../ladder/table';
import { ArmTask } from './arm';
import { CalibrateTask } from './calibrate';
import type { Channel } from './channel';
import { OhmmeterTask, rangeOf } from './ohmmeter';
import { calibrationTrouble, settingTrouble } from './request-checks';
import { SetTask } from './set';
import { wireState } from './state';
import { answered, asI32, asU16, asU32, refuse, within } from './wire';
import type { Refusing, Reply } from './wire';

/** Requests that belong to one channel or to the box's tables. The greeting and acknowledgements are the box's. */
export type ChannelRequest = Exclude<AnyRequest, { name: 'hello' | 'acknowledge' }>;

/** Circumstances of a request. */
export type Circumstances = { readonly nowMs: number; readonly hostDay: number; readonly token: number };

const NO_CONTACT_BIT = 255;
const NO_POWER_LIMIT = 65_535;
const GOOD_COPIES = 2;

/** Does a request, or begins it and answers later (undefined). */
export function doRequest(channel: Channel, request: ChannelRequest, at: Circumstances): Reply | undefined {
  const reply = dispatch(channel, request, at);
  // A refused request does not renew the lease: only a host that makes sense is a host.
  if (reply?.kind !== 'refuse') channel.heardAtMs = at.nowMs;
  return reply;
}

function dispatch(channel: Channel, request: ChannelRequest, at: Circumstances): Reply | undefined {
  switch (request.name) {
    case 'heartbeat':
      return answered('heartbeat', heartbeat(channel, at.nowMs));
    case 'arm':
      return arm(channel, request.fields, at);
    case 'set':
      return set(channel, request.fields, at);
    case 'open':
      channel.open(at.nowMs);
      return answered('open', stateNow(channel, at.nowMs));
    case 'measure':
      return answered('measure', channel.live.measure(isSettled(channel), at.nowMs));
    case 'clear':
      return clear(channel, request.fields, at);
    case 'element':
      return element(channel, request.fields.index);
    case 'ohmmeter':
      return measureSender(channel, request.fields, at);
    case 'calibrateElement':
      return calibrate(channel, request.fields, at);
    case 'calibrateStore':
      return store(channel, request.fields, at);
    case 'jobLimits':
      return ownLimits(request.fields);
  }
}

const stateNow = (channel: Channel, nowMs: number): Answer<'open'> => ({
  state: wireState(channel.state.name),
  boxMs: nowMs >>> 0,
});

const isSettled = (channel: Channel): boolean => channel.state.name === 'driving' && channel.drive.isSettled;

const inState = (channel: Channel): Refusing =>
  channel.state.name === 'tripped'
    ? refuse('TRIPPED', channel.faultCode)
    : refuse('STATE', wireState(channel.state.name));

/** Why a channel has no time for something that needs it safe and idle; `undefined` when it has. */
function notAtRest(channel: Channel): Refusing | undefined {
  if (channel.state.name !== 'safe') return inState(channel);
  return channel.isBusy ? refuse('BUSY') : undefined;
}

function heartbeat(channel: Channel, nowMs: number): Answer<'heartbeat'> {
  const { parts, live, job } = channel;
  const leaseLeftMs = job === undefined ? 0 : channel.leaseMs - (nowMs - channel.heardAtMs);
  const { commandedMask } = parts.contacts;
  return {
    state: wireState(channel.state.name),
    faultCode: channel.faultCode,
    contactMask: commandedMask,
    meterFlags: live.flags(isSettled(channel), nowMs),
    leaseLeftMs: asU16(leaseLeftMs),
    boxMs: nowMs >>> 0,
    terminalMicrovolt: asI32(live.terminalMicrovolt),
    currentMicroamp: asI32(live.currentMicroamp),
    measuredMilliohm: live.isResistanceKnown(nowMs)
      ? within(limits.resistanceMilliohm, live.measuredOhm * 1000)
      : 0,
    madeMilliohm: within(limits.resistanceMilliohm, channel.madeMilliohm),
    meterAgeMs: asU16(nowMs - parts.meter.sampledAtMs),
  };
}

function arm(
  channel: Channel,
  fields: Fields<'arm'>,
  { nowMs, hostDay, token }: Circumstances,
): Reply | undefined {
  const { state, parts } = channel;
  if (state.name !== 'safe' && state.name !== 'armed') return inState(channel);
  if (channel.isBusy) return refuse('BUSY');
  const trouble = calibrationTrouble(parts, hostDay);
  if (trouble !== undefined) return trouble;
  const kind = jobKindName(fields.jobKind);
  if (kind === undefined) return refuse('FIELD_RANGE', 2);
  const limited = tightened(jobLimits[kind], fields);
  if (limited.kind === 'too-loose') return refuse('LIMIT_LOOSER', limited.allowed);
  // Arming anew goes through safe, so that the self-test sees the rail fall.
  channel.open(nowMs);
  const job = { kind, limits: limited.limits };
  const passed = (passedMs: number): Reply => {
    channel.armed(job);
    channel.heardAtMs = passedMs;
    const openCircuitMicrovolt = asI32(channel.live.feedMicrovolt);
    return answered('arm', { ...stateNow(channel, passedMs), openCircuitMicrovolt });
  };
  return channel.begin(new ArmTask({ parts, job, passed }, nowMs), token);
}

function set(channel: Channel, fields: Fields<'set'>, { nowMs, token }: Circumstances): Reply | undefined {
  const { job, parts, drive, live } = channel;
  if (job === undefined) return inState(channel);
  if (channel.isBusy) return refuse('BUSY');
  const trouble = settingTrouble(fields, { parts, job, drive });
  if (trouble !== undefined) return trouble;
  if (!isOutputClosed(parts.contacts.commandedMask)) {
    drive.noteOpenCircuit(live.feedMicrovolt);
    drive.noteFeed();
  }
  channel.leaseMs = fields.leaseMs;
  channel.enter({ name: 'driven' });
  live.restart();
  drive.go(fields.contactMask, job.limits, nowMs);
  const giveUp = (givenUpMs: number): void => channel.backToArmed(givenUpMs);
  return channel.begin(new SetTask({ parts, drive, job, giveUp }, nowMs), token);
}

function clear(channel: Channel, { faultCode }: Fields<'clear'>, { nowMs }: Circumstances): Reply {
  const { state, parts } = channel;
  if (state.name !== 'tripped') return inState(channel);
  if (faultCode !== channel.faultCode) return refuse('WRONG_FAULT', channel.faultCode);
  const { meter } = parts;
  const microamp = Math.abs(meter.currentMicroamp);
  const limitMicroamp = weldedMicroamp(parts.calibration !== undefined);
  if (!(microamp <= limitMicroamp)) {
    // Not a number: the meter was never read, and nothing is known of a current.
    return microamp > limitMicroamp
      ? refuse('FAULT_PRESENT', faults.OUTPUT_WELDED.number)
      : refuse('METER_SILENT', asI32(nowMs - meter.sampledAtMs));
  }
  if (state.latched.fault === 'CALIBRATION_INVALID') {
    parts.loadCalibration();
    channel.tableChanged();
  }
  channel.enter({ name: 'cleared' });
  return answered('clear', stateNow(channel, nowMs));
}

function element({ parts }: Channel, index: number): Reply {
  if (index >= rowCount) return refuse('INDEX', rowCount);
  const isResidual = index === residualRow;
  const kind = isResidual ? 'residual' : index === limiterRow ? 'limiter' : 'element';
  return answered('element', {
    index,
    kind: elementKinds[kind],
    contactBit: isResidual ? NO_CONTACT_BIT : bitOfRow(index),
    milliohm: within(limits.resistanceMilliohm, parts.table.milliohm[index]!),
    uncertaintyMilliohm: asU32(parts.table.uncertaintyMilliohm[index]!),
    powerLimitMilliwatt: isResidual ? NO_POWER_LIMIT : asU16(ratedLimitMilliwatt(index)),
  });
}

function measureSender(
  channel: Channel,
  fields: Fields<'ohmmeter'>,
  { token }: Circumstances,
): Reply | undefined {
  const trouble = notAtRest(channel);
  if (trouble !== undefined) return trouble;
  const range = rangeOf(fields.currentMicroamp);
  const isFuel = jobKindName(fields.jobKind) === 'fuel';
  // In a tank only the small current: petrol vapour.
  if (range === undefined || (isFuel && range !== 'low'))
    return refuse('OHMMETER_CURRENT', ohmmeter.low.microamp);
  return channel.begin(new OhmmeterTask(channel.parts, fields, range), token);
}

function calibrate(
  channel: Channel,
  fields: Fields<'calibrateElement'>,
  { token }: Circumstances,
): Reply | undefined {
  const trouble = notAtRest(channel);
  if (trouble !== undefined) return trouble;
  if (fields.index >= rowCount) return refuse('INDEX', rowCount);
  if (!channel.session.isReadyFor(fields.index)) return refuse('UNMEASURED', residualRow);
  return channel.begin(new CalibrateTask(channel.parts, channel.session, fields.index), token);
}

function store(channel: Channel, fields: Fields<'calibrateStore'>, { hostDay }: Circumstances): Reply {
  const { session, parts } = channel;
  // Flash is written with interrupts off, which is why nothing may be driven meanwhile.
  const trouble = notAtRest(channel);
  if (trouble !== undefined) return trouble;
  const missing = session.missingRow();
  if (missing >= 0) return refuse('UNMEASURED', missing);
  const calibrationEndDay = hostDay + fields.validDayCount;
  // A host whose clock is near the end of the calendar.
  if (calibrationEndDay > limits.calendarDay.max) return refuse('FIELD_RANGE', 3);
  const counter = ((parts.calibration?.counter ?? 0) + 1) >>> 0;
  const { calibrationId } = fields;
  const wanted = session.calibration({ counter, calibrationId, calibrationDay: hostDay, calibrationEndDay });
  const { goodCopyCount, calibration } = storeCalibration(parts.device.calibrationSectors, wanted);
  parts.loadCalibration();
  channel.tableChanged();
  if (goodCopyCount < GOOD_COPIES || calibration?.counter !== counter)
    return refuse('STORAGE', goodCopyCount);
  return answered('calibrateStore', {
    calibrationId,
    calibrationDay: hostDay,
    calibrationEndDay,
    goodCopyCount,
  });
}

function ownLimits({ jobKind }: Fields<'jobLimits'>): Reply {
  const kind = jobKindName(jobKind);
  if (kind === undefined) return refuse('FIELD_RANGE', 2);
  const { min, max } = limits.deadManMs;
  return answered('jobLimits', { ...jobLimits[kind], deadManMinMs: min, deadManMaxMs: max });
}
