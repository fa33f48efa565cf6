import { refuse } from '../../host/refusals';
import { NOTHING_FOUND } from '../../host/store/catalogue/found';
import type { AppParts } from '../../host/server/route-parts';

/** A catalogue that knows nothing of any job: for tests of the rest of the server. */
export const noCatalogue: AppParts['catalogue'] = {
  lookUp: () => Promise.resolve({ kind: 'job-in-catalogue', cards: [] }),
  keep: () => Promise.resolve({ kind: 'job-in-catalogue', cards: [] }),
  find: () => Promise.resolve(NOTHING_FOUND),
  sendersForPart: ({ name }) => Promise.resolve(refuse('MODEL_UNKNOWN', { name, near: undefined })),
  sendersForJob: () => Promise.resolve({ kind: 'senders-for-gauge', unit: '', senders: [], unusable: [] }),
  tables: () => Promise.resolve({ kind: 'tables-in-catalogue', tables: [] }),
  takeDemo: () => Promise.resolve(NOTHING_FOUND),
  removeDemo: () => Promise.resolve(NOTHING_FOUND),
  say: ({ name }) => Promise.resolve(refuse('MODEL_UNKNOWN', { name, near: undefined })),
  part: ({ name }) => Promise.resolve(refuse('MODEL_UNKNOWN', { name, near: undefined })),
};
