import { z } from 'zod';
import { ohmmeter } from './instrument';
import { finite, leg, notNegative, positive, resistanceOhm, stopEnd } from './values';
import { supplyAt } from './instrument';

const MOST_PARTS = 30;
const MOST_OF_A_PART = 999;
const ohm = resistanceOhm.min(0.01);
const rating = positive.max(1000);

/** A resistor as it lies in the drawer, and how many there are. */
const part = z.strictObject({
  resistanceOhm: ohm,
  ratingWatt: rating.optional(),
  count: z.number().int().min(1).max(MOST_OF_A_PART),
});

/** What is put in the sender's place when there is no box. */
const handTools = z.discriminatedUnion('way', [
  z.strictObject({
    way: z.literal('resistors'),
    parts: z.array(part).min(1).max(MOST_PARTS),
    /** A change-over switch: the next resistor is put on its free side, so that the needle comes from the one before. */
    hasSwitch: z.literal(true).optional(),
  }),
  z.strictObject({
    way: z.literal('decade'),
    leastOhm: ohm,
    mostOhm: ohm,
    /** What one of its resistors is rated. */
    ratingWatt: rating.optional(),
  }),
  z.strictObject({
    way: z.literal('potentiometer'),
    wholeOhm: ohm,
    ratingWatt: rating,
    /** The fixed resistor in series with it, which stays on. */
    seriesOhm: ohm,
    seriesWatt: rating,
  }),
]);
export type HandTools = z.infer<typeof handTools>;

/** How a sweep by hand is done; what is not known of the circuit is taken at its worst. */
export const handSetUp = z.strictObject({
  tools: handTools,
  ohmmeter,
  /** The most volts at the gauge's feed terminal; of a pulsing feed, those that heat. */
  feedVolt: positive.max(60).optional(),
  gaugeOhm: ohm.optional(),
});
export type HandSetUp = z.infer<typeof handSetUp>;

const MOST_IMPORTED = 500;
/** A row of a table that somebody measured without this program; its row number in the table. */
const importedReading = z.strictObject({
  row: z.number().int().min(1),
  resistanceOhm,
  reading: finite,
  leg: leg.optional(),
  atStop: stopEnd.optional(),
  readingUncertainty: notNegative.optional(),
  resistanceUncertaintyOhm: notNegative.optional(),
  supplyVolt: positive.optional(),
  supplyAt: supplyAt.optional(),
});
export const importedReadings = z.array(importedReading).min(1).max(MOST_IMPORTED);
