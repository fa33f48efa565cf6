import { z } from 'zod';
import { topologies } from '../../../core/network/closed-form/topology';

/** What several answers are made of. Every object is strict: a field that nobody described fails. */
export const quantityShape = z.enum(['temperature', 'fuel', 'pressure', 'other']);
export const legShape = z.enum(['up', 'down']);
export const stopShape = z.enum(['low', 'high']);
export const supplyAtShape = z.enum(['feed', 'battery']);
export const topologyShape = z.enum(topologies);
export const placeShape = z.enum([
  'series',
  'shunt',
  'series-gauge-side',
  'series-sender-side',
  'across-gauge',
]);
export const warningsShape = z.array(z.string());

/** A resistor of a network and where it sits. */
export const partShape = z.strictObject({ place: placeShape, resistance_ohm: z.number() });

/** A code that programs test for, and its sentence. */
export const reasonShape = z.strictObject({ code: z.string(), message: z.string() });

/** Null where there are infinitely many. */
export const degreesShape = z.number().nullable();

/** Data that is only looked at. */
export type Looked<Data> = Data extends readonly (infer Each)[]
  ? readonly Looked<Each>[]
  : Data extends object
    ? { readonly [Key in keyof Data]: Looked<Data[Key]> }
    : Data;
