/** The stations of a job, in the order of the job sheet. */
export const stations = ['check', 'sweep', 'sender', 'trim', 'proof', 'record'] as const;
export type Station = (typeof stations)[number];

/** What a station has found, in one line, and whether there is nothing left to do at it. */
export type Headline = { readonly station: Station; readonly done: boolean; readonly text: string };
