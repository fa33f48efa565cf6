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
};
