/** The ohmmeter's two currents and how far each reaches; a test keeps them equal to the firmware's. */
export const OHMMETER_RANGES = [
  { microamp: 10_000, highestOhm: 340 },
  { microamp: 500, highestOhm: 7000 },
] as const;
