import { nameOfRow } from './names';

/** One reason for which a box opens its output by itself. */
export type Fault = {
  /** One number, one meaning, for ever; a retired number is never used again. */
  readonly number: number;
  /** Unit of `measured` and `limit` in the event. */
  readonly unit: string;
  readonly says: (measured: number, limit: number) => string;
  readonly remedy: string;
};

/** The catalogue of trips. Each sentence states what was measured, the limit, and the remedy says what to do. */
export const faults = {
  DEAD_MAN: {
    number: 1,
    unit: 'ms',
    says: (measured, limit) => `output opened: the host was silent for ${measured} ms, limit ${limit} ms`,
    remedy: 'check the cable and that the computer is not asleep, then clear and arm again',
  },
  CURRENT_HIGH: {
    number: 2,
    unit: 'mA',
    says: (measured, limit) => `output opened: ${measured} mA measured, limit ${limit} mA`,
    remedy: 'look for a short to supply on the sender wire before arming again',
  },
  ELEMENT_POWER: {
    number: 3,
    unit: 'mW',
    says: (measured, limit) => `output opened: one resistor carried ${measured} mW, limit ${limit} mW`,
    remedy: 'ask for a higher resistance, or feed the gauge from its stabiliser instead of the battery',
  },
  TOTAL_POWER: {
    number: 4,
    unit: 'mW',
    says: (measured, limit) => `output opened: the box was heated with ${measured} mW, limit ${limit} mW`,
    remedy: 'let the box cool for a minute, then use a higher resistance or shorter steps',
  },
  SUPPLY_HIGH: {
    number: 5,
    unit: 'mV',
    says: (measured, limit) => `output opened: ${measured} mV at the terminals, limit ${limit} mV`,
    remedy: 'stop the engine or turn the bench supply down, and connect the box to the sender wire only',
  },
  SUPPLY_REVERSED: {
    number: 6,
    unit: 'mV',
    says: (measured, limit) => `output opened: ${measured} mV at the terminals, must be above ${limit} mV`,
    remedy: 'swap the two clips: red on the sender wire, black on vehicle ground',
  },
  LOW_RESISTANCE_TIME: {
    number: 7,
    unit: 'ms',
    says: (measured, limit) => `output opened: ${measured} ms below the resistance floor, limit ${limit} ms`,
    remedy: 'let the gauge cool, then take low readings in short visits',
  },
  CONTACT_STUCK: {
    number: 8,
    unit: 'milliohm',
    says: (measured, limit) => `output opened: ${measured} milliohm measured where ${limit} was made`,
    remedy: 'clean the clips; if it happens again a relay contact is stuck: run "needlewright calibrate"',
  },
  OUTPUT_WELDED: {
    number: 9,
    unit: 'uA',
    says: (measured, limit) => `${measured} uA flow although the output is open, limit ${limit} uA`,
    remedy: 'take the clips off NOW and replace the output relay: its contact is welded',
  },
  SELF_TEST: {
    number: 10,
    unit: 'step',
    says: (measured, limit) => `self-test failed at step ${measured} of ${limit}`,
    remedy: 'see the self-test steps in hardware-notes; do not use the box until it passes',
  },
  WATCHDOG_RESET: {
    number: 11,
    unit: 'count',
    says: (measured) => `the box restarted by itself (${measured} times since power-up)`,
    remedy: 'note what was going on, clear and go on; if it repeats, do not trust the box',
  },
  CALIBRATION_INVALID: {
    number: 12,
    unit: 'copy',
    says: (measured, limit) =>
      `output opened: the element table in memory has changed by itself (${measured} of ${limit} stored copies are good)`,
    remedy: 'clear, which loads it anew; if it happens again run "needlewright calibrate"',
  },
  BROWN_OUT: {
    number: 13,
    unit: 'mV',
    says: (measured, limit) =>
      `output opened: the box's own supply fell to ${measured} mV, limit ${limit} mV`,
    remedy: 'check the DC supply of the box, 9 to 18 V, with its fuse and leads',
  },
  METER_SILENT: {
    number: 14,
    unit: 'ms',
    says: (measured, limit) =>
      `output opened: no reading from the meter for ${measured} ms, limit ${limit} ms`,
    remedy: 'unplug the box and plug it in again; if it repeats the converter is faulty',
  },
  COIL_SUPPLY: {
    number: 15,
    unit: 'mV',
    says: (measured, limit) => `output opened: relay coils fed with ${measured} mV, need ${limit} mV`,
    remedy:
      'the hardware dead-man or the current trip has cut the coils: restart the box, check its DC supply',
  },
  INTERNAL: {
    number: 16,
    unit: 'place',
    says: (measured) => `output opened: the box found itself in an impossible state (place ${measured})`,
    remedy: 'restart the box and report the place number with what was going on',
  },
  OUTPUT_OPEN: {
    number: 17,
    unit: 'milliohm',
    says: (measured, limit) => `no current although ${limit} milliohm were made (reads ${measured} milliohm)`,
    remedy: 'the output relay or a ladder contact does not close, or the supply is switched off',
  },
} as const satisfies Record<string, Fault>;

export type FaultName = keyof typeof faults;

/** Name of a fault number; `undefined` for 0 (no fault) and for numbers of a newer box. */
export const faultName = (faultCode: number): FaultName | undefined => nameOfRow(faults, faultCode);

/** The whole sentence for a person: what was measured, the limit, what to do. Units as in the catalogue. */
export function faultSentence(faultCode: number, measured: number, limit: number): string {
  const name = faultName(faultCode);
  if (name === undefined) return `output opened: fault ${faultCode} (unknown to this host; update the host)`;
  return `${faults[name].says(measured, limit)}; ${faults[name].remedy}`;
}
