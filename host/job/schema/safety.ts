import { z } from 'zod';
import { name } from './values';

export const confirmation = z.enum([
  'fuel-dash-end',
  'connected-ignition-off',
  'mechanism-unknown',
  'low-resistance',
  'engine-cold',
  'tank-closed',
  'hand-ignition-off',
  'coolant-level',
  'dash-open',
  'engine-runs',
  'engine-off',
  'gauge-sender',
  'two-aboard',
]);
export type Confirmation = z.infer<typeof confirmation>;

/** What somebody measured that opens a gate: a tap is no temperature. */
export const gateEvidence = {
  /** The system, by one's own probe at the top hose or the tank. */
  probeCelsius: z.number().min(-60).max(400).optional(),
  /** Minutes that the manual wants after battery negative came off; 0 where there are no airbags. */
  airbagWaitMinutes: z.number().min(0).max(120).optional(),
  /** How long the button was held, hands and leads out. */
  heldMs: z.number().min(0).max(600_000).optional(),
  /** Who drives and who reads while the vehicle moves. */
  driver: name.optional(),
  reader: name.optional(),
};
