import { z } from 'zod';
import { gaugeColumns, senderColumns, type Columns, type GaugeSpecimen } from '../core/catalogue/columns';
import type { Refusal } from '../core/refusal';
import type { SenderPoint } from '../core/sender';
import { mechanism, quantity } from '../job';
import { licence, type Card, type GaugeCard, type SenderCard } from './card';

/** What a list shows of a card, so that not every card is read whole. */
export const cardSummary = z.object({
  kind: z.enum(['gauge', 'sender']),
  quantity,
  unit: z.string(),
  description: z.string().optional(),
  mechanism: mechanism.optional(),
  terminals: z.number().optional(),
  familyOhm: z.object({ lowEnd: z.number(), highEnd: z.number() }).optional(),
  found: z.enum(['as-found', 'as-left']).optional(),
  measuredAt: z.string().optional(),
  counted: z.number(),
  /** The job it was measured in: a job has one gauge. */
  job: z.string().optional(),
  licence,
  simulated: z.boolean(),
  demo: z.boolean(),
});
export type CardSummary = z.infer<typeof cardSummary>;

/** Source: the card's own fields. */
export function summaryOf(card: Card): CardSummary {
  const { mechanism: moves, terminals, family_ohm: family } = card.kind === 'gauge' ? card : {};
  return {
    ...{ kind: card.kind, quantity: card.quantity, unit: card.unit },
    ...(card.description === undefined ? {} : { description: card.description }),
    ...(moves === undefined ? {} : { mechanism: moves }),
    ...(terminals === undefined ? {} : { terminals }),
    ...(family === undefined ? {} : { familyOhm: { lowEnd: family.low_end, highEnd: family.high_end } }),
    ...(card.found === undefined ? {} : { found: card.found }),
    ...(card.measured_at === undefined ? {} : { measuredAt: card.measured_at }),
    counted: card.points.filter(({ struck }) => struck === undefined).length,
    ...(card.made_from?.job === undefined ? {} : { job: card.made_from.job }),
    ...{ licence: card.licence, simulated: card.simulated, demo: card.demo === true },
  };
}

/** The counted readings of a gauge as the fit takes them. */
export const specimenOf = (card: GaugeCard): GaugeSpecimen => ({
  ...{ quantity: card.quantity, unit: card.unit, division: card.division, mechanism: card.mechanism },
  marks: (card.marks ?? []).map(({ label, reading, angle_fraction }) => ({
    ...{ label, reading },
    angleFraction: angle_fraction,
  })),
  ...(card.ohms_shared === undefined
    ? {}
    : { ohmsShared: { relative: card.ohms_shared.relative, absoluteOhm: card.ohms_shared.ohm } }),
  readings: card.points
    .filter(({ struck }) => struck === undefined)
    .map((one) => ({
      resistanceOhm: one.resistance_ohm,
      reading: one.reading,
      leg: one.leg,
      atStop: one.at_stop,
      readingUncertainty: one.u_reading === 0 ? undefined : one.u_reading,
      // What the box adds is shared by its settings and allowed for by the fit; what was typed is each reading's own.
      resistanceUncertaintyOhm: one.method === 'typed' ? one.u_ohm : undefined,
      supplyVolt: one.supply_V,
      supplyAt: one.supply_at,
      isSought: one.method === 'seek' ? true : undefined,
    })),
});

/** The counted points of a sender as the fit takes them. */
export const senderPointsOf = (card: SenderCard): SenderPoint[] =>
  card.points
    .filter(({ struck }) => struck === undefined)
    .map((one) => ({
      value: one.value,
      resistanceOhm: one.resistance_ohm,
      valueUncertainty: one.u_value,
      resistanceUncertaintyOhm: one.u_ohm,
    }));

/** Works a card out. Refuses as its fit does: such a card is kept and shown, and cannot be found by readings. */
export const columnsOf = (card: Card): Columns | Refusal =>
  card.kind === 'gauge' ? gaugeColumns(specimenOf(card)) : senderColumns(card.unit, senderPointsOf(card));
