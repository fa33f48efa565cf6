/** What a picture may be of. Apart from its schema: a page carries no schema library. */
export const photographSubjects = [
  'vehicle',
  'gauge',
  'sender',
  'wiring',
  'as-found',
  'as-left',
  'other',
] as const;
export type PhotographSubject = (typeof photographSubjects)[number];
