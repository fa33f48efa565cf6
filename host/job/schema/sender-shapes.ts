import { z } from 'zod';
import { ohmmeter, source } from './instrument';
import { finite, name, notNegative, positive, resistanceOhm, text } from './values';

const currentReading = z.strictObject({
  microamp: positive,
  resistanceOhm,
  uncertaintyOhm: notNegative,
});

export const senderShapes = {
  described: {
    senderId: name,
    title: name,
    model: z.enum(['steinhart-hart', 'beta', 'exponential', 'table', 'polynomial', 'unknown']),
    unit: name,
    /** What its maker says a part may differ from its table, in percent of the resistance. */
    tolerancePercent: positive.max(90).optional(),
    serialNumber: name.optional(),
    partNumber: name.optional(),
    /** Added because the trim asked for another sender: the next search is for this one. */
    forTrim: z.literal(true).optional(),
    remark: text.optional(),
  },
  point: {
    pointId: name,
    senderId: name,
    value: finite,
    valueUncertainty: notNegative.optional(),
    resistanceOhm,
    resistanceUncertaintyOhm: notNegative.optional(),
    ohmmeter: ohmmeter.optional(),
    testMicroamp: positive.optional(),
    /** How fast the resistance was moving when it was taken. */
    driftOhmPerMinute: finite.optional(),
    source,
    remark: name.optional(),
  },
  /** One bath, two currents: what the second current's heat did. */
  selfHeating: {
    senderId: name,
    value: finite,
    low: currentReading,
    high: currentReading,
    /** Part of the time in which the box sends the current while it measures again and again. */
    onFraction: positive.max(1),
  },
  /**
   * Volts on the sender lead at working current, in the vehicle: with the coolant flowing just after the lead is put on
   * (cold) and a minute later (warm), or seconds after the ignition in still coolant. `lead`: what stands behind it.
   */
  workingCurrent: {
    senderId: name,
    method: z.enum(['flowing', 'still']),
    lead: z.strictObject({ volt: positive.max(1000), ohm: positive.max(1e6) }),
    readings: z
      .array(
        z.strictObject({
          when: z.enum(['cold', 'warm']).optional(),
          second: notNegative.optional(),
          senderVolt: positive.max(1000),
          openVolt: positive.max(1000).optional(),
        }),
      )
      .min(1)
      .max(60),
  },
};
