/**
 * Things a person must say before the output may close. The sentence is shown beside the button and kept in the journal.
 * Source: common practice collected in the trade's safety rules (fuel vapour, unknown mechanism, shorted thermal gauge).
 */
export const confirmations = {
  'fuel-dash-end': {
    asks: 'The tank is closed, the box is connected at the dash end of the sender wire, and the sender wire is off.',
  },
  'connected-ignition-off': {
    asks: 'The leads were connected with the ignition off; it is on now only to feed the gauge.',
  },
  'mechanism-unknown': {
    asks: 'Nobody knows yet what kind of gauge this is: it starts at the highest resistance and goes down slowly.',
  },
  'low-resistance': {
    asks: 'This step puts less than the lowest usual sender resistance on a thermal gauge, for 5 seconds at most.',
  },
} as const;
