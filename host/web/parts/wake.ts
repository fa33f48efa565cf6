/** A hand that means to press once may press twice within this long; what has just come is not yet read. */
export const WAKE_MS = 900;
