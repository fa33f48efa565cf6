let busyCount = 0;

/**
 * Ports that the system is opening or closing at the moment. A device that is gone may keep such a call for ever, and an
 * ordinary end of the program would wait for it.
 */
export const busyPorts = (): number => busyCount;

/** Counts one call; call the answer once, when the system has answered. */
export const portCall = (): (() => void) => {
  busyCount += 1;
  return () => void (busyCount -= 1);
};
