import { nothingToForget } from './guard';
import type { Guard } from './guard';

/** Opens when the host has been silent for longer than the lease it took. */
export const deadManGuard: Guard = {
  check: ({ isArmed, hostSilentMs, leaseMs }) =>
    isArmed && !(hostSilentMs <= leaseMs)
      ? { fault: 'DEAD_MAN', measured: hostSilentMs, limit: leaseMs }
      : undefined,
  reset: nothingToForget,
};
