import { z } from 'zod';

export const confirmation = z.enum([
  'fuel-dash-end',
  'connected-ignition-off',
  'mechanism-unknown',
  'low-resistance',
  'engine-cold',
  'tank-closed',
  'hand-ignition-off',
  'coolant-level',
]);
export type Confirmation = z.infer<typeof confirmation>;
