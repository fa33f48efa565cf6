/** A chance below this is no likeness: something else is at least as likely. Source: definition. */
export const LEAST_LIKENESS = 0.5;
