/** Version of the firmware, as the greeting says it. */
export const firmwareVersion = { major: 1, minor: 0, patch: 0 } as const;
