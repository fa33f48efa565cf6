/** What HTTP answers with it. 422: understood, and refused all the same. */
export type Status = 400 | 401 | 403 | 404 | 422 | 429 | 500 | 503;

/** One refusal: what it says of its slots, what to do (empty where the first sentence says it), and its HTTP status. */
export type Entry<Slots extends readonly unknown[]> = {
  readonly status: Status;
  readonly says: (...slots: Slots) => string;
  readonly remedy: string;
};
