import { nameOfRow } from './names';

/** One reason for which a box does not do what a request asks. The contacts are then as before, or the output is open. */
export type Refusal = { readonly number: number; readonly says: (detail: number) => string };

/** The catalogue of refusals; `detail` is the number that decides (a limit, a state, what the box added up). */
export const refusals = {
  UNKNOWN_TYPE: {
    number: 1,
    says: (detail) => `the box does not know message type ${detail}: update its firmware`,
  },
  FIELDS_SHORT: { number: 2, says: (detail) => `the message ends after ${detail} bytes of fields` },
  FIELD_RANGE: { number: 3, says: (detail) => `field number ${detail} of the message is outside its range` },
  GREETING_FIRST: { number: 4, says: () => 'the box has restarted or was never greeted: say hello first' },
  PROTOCOL_VERSION: {
    number: 5,
    says: (detail) => `the box speaks protocol ${detail}, this host another: update the older of the two`,
  },
  CHANNEL: { number: 6, says: (detail) => `the box has ${detail} channel(s): no such channel` },
  STATE: { number: 7, says: (detail) => `not possible in the present state (${detail})` },
  TRIPPED: { number: 8, says: (detail) => `the box has tripped (fault ${detail}): clear it first` },
  COMPLEMENT: { number: 9, says: () => 'contact mask and complement do not agree: the message was garbled' },
  SUM_DISAGREES: {
    number: 10,
    says: (detail) => `these contacts make ${detail} milliohm by the box's own table`,
  },
  LIMIT_LOOSER: { number: 11, says: (detail) => `limits may only be tightened: the box allows ${detail}` },
  LEASE: { number: 12, says: (detail) => `the lease may be at most ${detail} ms` },
  CALIBRATION_INVALID: {
    number: 13,
    says: (detail) => `no good copy of the element table (${detail} of 2): run "needlewright calibrate"`,
  },
  CALIBRATION_EXPIRED: {
    number: 14,
    says: (detail) => `the calibration ran out ${detail} days ago: run "needlewright calibrate"`,
  },
  SELF_TEST: { number: 15, says: (detail) => `self-test step ${detail} failed: see hardware-notes` },
  RAMP: {
    number: 16,
    says: (detail) => `unknown gauge: go down in steps, at present not below ${detail} milliohm`,
  },
  PREDICTED_CURRENT: {
    number: 17,
    says: (detail) =>
      `this resistance would carry ${detail} mA, over the limit: stay higher, or lower the feed (engine and charger off)`,
  },
  PREDICTED_POWER: { number: 18, says: (detail) => `one resistor would carry ${detail} mW, over its rating` },
  SUPPLY_PRESENT: {
    number: 19,
    says: (detail) => `${detail} mV at the terminals: disconnect the vehicle first`,
  },
  BUSY: { number: 20, says: () => 'still busy with the request before' },
  INDEX: { number: 21, says: (detail) => `the table has ${detail} rows: no such row` },
  WRONG_FAULT: { number: 22, says: (detail) => `the fault to clear is ${detail}, not the one named` },
  FAULT_PRESENT: { number: 23, says: (detail) => `fault ${detail} is still there: remove its cause first` },
  CONTACTS: { number: 24, says: (detail) => `the mask names contacts the box lacks (it has mask ${detail})` },
  METER_SILENT: { number: 25, says: (detail) => `no reading from the meter for ${detail} ms` },
  STORAGE: {
    number: 26,
    says: (detail) => `the table could not be stored (${detail} of 2 copies read back)`,
  },
  REFERENCE: {
    number: 27,
    says: (detail) => `this row reads ${detail} milliohm, which its part cannot be: nothing was taken over`,
  },
  OPEN_LEAD: { number: 28, says: (detail) => `nothing connected: only ${detail} uA flow` },
  FLOOR: { number: 29, says: (detail) => `not below the floor of ${detail} milliohm for this kind of gauge` },
  OUTPUT_BIT: {
    number: 30,
    says: () => 'the mask of a setting must have the output contact closed (bit 15)',
  },
  OHMMETER_CURRENT: {
    number: 31,
    says: (detail) => `the ohmmeter has no such current here: use ${detail} uA`,
  },
  UNMEASURED: { number: 32, says: (detail) => `row ${detail} was not measured since the box started` },
  GROUND_CLIPS: {
    number: 33,
    says: (detail) =>
      `${detail} mV where none should be: put the GROUND and BATTERY - clips on the CAL - post`,
  },
} as const satisfies Record<string, Refusal>;

export type RefusalName = keyof typeof refusals;

/** Name of a refusal number; `undefined` for numbers of a newer box. */
export const refusalName = (refusalCode: number): RefusalName | undefined => nameOfRow(refusals, refusalCode);

/** The sentence for a person. */
export function refusalSentence(refusalCode: number, detail: number): string {
  const name = refusalName(refusalCode);
  if (name === undefined) return `the box refused with code ${refusalCode} (${detail}): update the host`;
  return refusals[name].says(detail);
}
