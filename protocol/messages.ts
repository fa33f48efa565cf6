import { appended, i32, u16, u32, u8 } from './field';
import type { FieldTable, FieldValues } from './field';
import { limits } from './limits';

/** Version this code speaks. Majors must agree before anything is armed; a higher minor only appends fields. */
export const PROTOCOL_MAJOR = 1;
export const PROTOCOL_MINOR = 1;

/** A request of the host and the box's answer to it (type | 0x80, same sequence). */
export type Exchange = {
  readonly number: number;
  readonly purpose: string;
  readonly request: FieldTable;
  readonly answer: FieldTable;
};

/** What the box says unasked, repeated until acknowledged. */
export type Announcement = { readonly number: number; readonly purpose: string; readonly fields: FieldTable };

const channel = u8('channel, from 0');
const boxMs = u32("the box's millisecond counter (wraps after 49.7 days)");
const state = u8('0 safe, 1 armed, 2 driving, 3 tripped', { min: 0, max: 3 });
const contactMask = u16(
  'bits 0..13: contact across element i closed (shorted), bit 14: limiter bypassed, bit 15: output closed',
);
const flags = u16('meter flags: which of the numbers are known, see words.ts');
const resistance = (meaning: string) => u32(meaning, limits.resistanceMilliohm);
const day = (meaning: string) => u16(`${meaning}, days since 1970-01-01`, limits.calendarDay);
const leaseMs = u16('the output opens when the host is silent for longer', limits.deadManMs);

/** THE table: every message, its number, its fields with unit, range and meaning. All else derives from it. */
export const messages = {
  hello: {
    number: 0x01,
    purpose: 'greets; nothing else is accepted before it. Its layout never changes, whatever the versions',
    request: {
      protocolMajorMin: u8('lowest protocol major the host speaks'),
      protocolMajorMax: u8('highest protocol major the host speaks'),
      hostNonce: u32('any number; comes back in the answer'),
      hostDay: day("the host's date, because the box has no calendar"),
    },
    answer: {
      protocolMajor: u8(
        'protocol the box speaks; outside the range of the host nothing else will be accepted',
      ),
      protocolMinor: u8('minor version of it'),
      firmwareMajor: u8('firmware version'),
      firmwareMinor: u8('firmware version'),
      firmwarePatch: u8('firmware version'),
      boxSerial: u32('serial number of the box'),
      bootNonce: u32('changes at every restart: the output is open then'),
      hostNonce: u32('as asked'),
      capabilities: u32('bits, see words.ts; bit 0 = the box is simulated'),
      channelCount: u8('channels, at least 1'),
      elementCount: u8('elements of the resistance chain'),
      state,
      deadManMaxMs: u16('longest lease'),
      currentMaxMilliamp: u16('highest current of any job kind'),
      supplyMaxMillivolt: u16('highest voltage at the terminals'),
      resistanceMaxOhm: u16('highest resistance the chain makes'),
      calibrationId: u32('which element table is in use; 0 = none is good'),
      calibrationDay: u16('when it was measured, days since 1970-01-01; 0 = none is good'),
      calibrationEndDay: u16('last day it is valid; 0 = none is good'),
      boxMs,
    },
  },
  heartbeat: {
    number: 0x02,
    purpose: 'keeps the lease and reads the live numbers; send every third of the lease',
    request: { channel },
    answer: {
      state,
      faultCode: u8('fault that tripped the channel, 0 = none'),
      contactMask,
      meterFlags: flags,
      leaseLeftMs: u16('time left before this heartbeat renewed it'),
      boxMs,
      terminalMicrovolt: i32('voltage between sender terminal and box ground'),
      currentMicroamp: i32('current into the sender terminal'),
      measuredMilliohm: resistance('voltage by current, as measured now'),
      madeMilliohm: resistance('what the contacts make by the element table'),
      meterAgeMs: u16('age of voltage and current'),
    },
  },
  arm: {
    number: 0x03,
    purpose: "takes on a job: self-test, then state armed. Limits may only tighten the box's own",
    request: {
      channel,
      jobKind: u8('0 thermal, 1 magnetic, 2 electronic, 3 unknown, 4 fuel', { min: 0, max: 4 }),
      currentLimitMilliamp: u16('trip above', limits.currentMilliamp),
      elementPowerLimitMilliwatt: u16('trip when one resistor carries more', limits.powerMilliwatt),
      totalPowerLimitMilliwatt: u16('trip when the whole chain carries more', limits.powerMilliwatt),
      supplyLimitMillivolt: u16('trip above at the terminals', limits.supplyMillivolt),
      floorMilliohm: resistance('below this resistance only for floorTimeMs'),
      floorTimeMs: u16('longest stay below the floor', limits.floorTimeMs),
      leaseMs,
      originalLeastMilliohm: appended(
        resistance(
          "lowest resistance of the vehicle's own sender, 0 = nobody said: how far down a fuel job may go on a pulsing feed",
        ),
        0,
      ),
    },
    answer: { state, openCircuitMicrovolt: i32('terminal voltage before the output closed'), boxMs },
  },
  set: {
    number: 0x04,
    purpose: 'makes a resistance and closes the output. Absolute, so that a repeat changes nothing',
    request: {
      channel,
      contactMask,
      complementMask: u16('bitwise complement of contactMask, so that a garbled mask cannot act'),
      resistanceMilliohm: resistance('what the host means; refused unless the box adds up the same'),
      leaseMs,
    },
    answer: {
      contactMask,
      madeMilliohm: resistance('what the contacts make by the element table, leads of the box included'),
      uncertaintyMilliohm: u32('standard uncertainty of madeMilliohm'),
      settleMs: u16('wait this long before believing the meter'),
      boxMs,
    },
  },
  open: {
    number: 0x05,
    purpose: 'opens the output: back to safe from any state but tripped, which stays tripped and open',
    request: { channel },
    answer: { state, boxMs },
  },
  measure: {
    number: 0x06,
    purpose: 'all the meter knows',
    request: { channel },
    answer: {
      meterFlags: flags,
      terminalMicrovolt: i32('mean voltage between sender terminal and box ground'),
      currentMicroamp: i32('mean current into the sender terminal'),
      measuredMilliohm: resistance('voltage by current'),
      measuredUncertaintyMilliohm: u32('standard uncertainty of measuredMilliohm'),
      openCircuitMicrovolt: i32('terminal voltage when the output was last open'),
      openCircuitAgeMs: u32('age of it'),
      heatMicrovolt: i32('root mean square voltage: the steady voltage that heats alike'),
      highMicrovolt: i32('highest voltage seen in the ripple window'),
      lowMicrovolt: i32('lowest voltage seen in the ripple window'),
      dutyPermille: u16('part of the window in which the voltage was high', { min: 0, max: 1000 }),
      pulsePeriodMs: u16('time from rise to rise; 0 = no two rises in the window'),
      groundOffsetMicrovolt: i32('box ground clip against the offset probe on battery negative'),
      meterAgeMs: u16('age of voltage and current'),
      boxMs,
    },
  },
  clear: {
    number: 0x07,
    purpose: 'lifts a trip; names the fault so that only one who has seen it can lift it',
    request: { channel, faultCode: u8('the fault to lift') },
    answer: { state, boxMs },
  },
  element: {
    number: 0x08,
    purpose: 'one row of the element table: elements first, then the limiter, then the residual',
    request: { index: u8('row, from 0') },
    answer: {
      index: u8('as asked'),
      kind: u8('0 element, 1 limiter, 2 residual (everything shorted: contacts and leads)', {
        min: 0,
        max: 2,
      }),
      contactBit: u8('bit of contactMask that shorts it; 255 for the residual'),
      milliohm: resistance('what it adds when not shorted; for the residual, what is always there'),
      uncertaintyMilliohm: u32('standard uncertainty'),
      powerLimitMilliwatt: u16('continuous rating after derating; 65535 for the residual'),
    },
  },
  ohmmeter: {
    number: 0x09,
    purpose: 'measures a sender on the bench with the box as the only source; state safe only',
    request: {
      channel,
      jobKind: u8('as in arm; fuel allows only the lowest current', { min: 0, max: 4 }),
      currentMicroamp: u16('wanted current, one of those the box has', limits.ohmmeterMicroamp),
    },
    answer: {
      terminalMicrovolt: i32('voltage across the sender'),
      currentMicroamp: i32('current that really flowed'),
      milliohm: resistance('voltage by current, leads of the box taken off'),
      uncertaintyMilliohm: u32('standard uncertainty'),
      boxMs,
    },
  },
  calibrateElement: {
    number: 0x0a,
    purpose:
      'measures one row against the reference resistor; state safe, SENDER clip on the CAL post. Residual row first, four times',
    request: { channel, index: u8('row, as in element') },
    answer: {
      index: u8('as asked'),
      milliohm: resistance('what was measured'),
      uncertaintyMilliohm: u32('standard uncertainty'),
      boxMs,
    },
  },
  calibrateStore: {
    number: 0x0b,
    purpose: 'stores the rows just measured in two copies; refused unless every row was measured since boot',
    request: {
      channel,
      calibrationId: u32('number of this calibration', { min: 1, max: 0xffff_ffff }),
      validDayCount: u16('days it stays valid', { min: 1, max: 1100 }),
    },
    answer: {
      calibrationId: u32('as stored'),
      calibrationDay: day('today by the host'),
      calibrationEndDay: day('last valid day'),
      goodCopyCount: u8('copies that read back good', { min: 0, max: 2 }),
    },
  },
  jobLimits: {
    number: 0x0c,
    purpose: "the box's own limits for a kind of job: what arm may tighten and never loosen",
    request: { channel, jobKind: u8('as in arm', { min: 0, max: 4 }) },
    answer: {
      currentLimitMilliamp: u16('trip above'),
      elementPowerLimitMilliwatt: u16('highest rating of a resistor; each one has its own as well'),
      totalPowerLimitMilliwatt: u16('trip above, mean over the thermal time constant'),
      supplyLimitMillivolt: u16('trip above'),
      floorMilliohm: resistance('resistance floor'),
      floorTimeMs: u16('longest stay below the floor'),
      deadManMinMs: u16('shortest lease'),
      deadManMaxMs: u16('longest lease'),
      rampPermille: u16('a set may go down to this part of the present resistance; 0 = at once', {
        min: 0,
        max: 1000,
      }),
    },
  },
  acknowledge: {
    number: 0x0d,
    purpose: 'tells the box that an event has arrived, so that it stops repeating it',
    request: { eventSequence: u8('sequence of the event') },
    answer: { eventSequence: u8('as asked') },
  },
} as const satisfies Record<string, Exchange>;

/** Events: type 0xC0 and up, sequence counted by the box, repeated until acknowledged. */
export const events = {
  tripped: {
    number: 0xc0,
    purpose: 'a guard opened the output',
    fields: {
      channel,
      faultCode: u8('which guard, see the fault catalogue'),
      measured: i32('what was measured, unit by the catalogue'),
      limit: i32('the limit, unit by the catalogue'),
      boxMs,
    },
  },
} as const satisfies Record<string, Announcement>;

/** The answer to a request that was not done. Type 0xBF, sequence of the request. */
export const refused = {
  number: 0xbf,
  purpose: 'the request was not done: the contacts are as before, or the output is open',
  fields: {
    requestType: u8('type of the request'),
    refusalCode: u8('see the refusal catalogue'),
    detail: i32('the number that decided'),
  },
} as const satisfies Announcement;

export type RequestName = keyof typeof messages;
export type EventName = keyof typeof events;

/** Values of a request's fields. */
export type Fields<Name extends RequestName> = FieldValues<(typeof messages)[Name]['request']>;
/** Values of an answer's fields. */
export type Answer<Name extends RequestName> = FieldValues<(typeof messages)[Name]['answer']>;
/** Values of an event's fields. */
export type EventFields<Name extends EventName> = FieldValues<(typeof events)[Name]['fields']>;
export type RefusedFields = FieldValues<(typeof refused)['fields']>;
