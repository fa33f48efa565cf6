/** The screen that reads the needle must be heard this often; after this much silence the host opens the output. */
export const ABSENT_MS = 6_000;
