type AtFile = { readonly path: string; readonly why: string };

/** Refusals of the catalogue of curves. */
export const catalogueRefusals = {
  CATALOGUE_NO_DRIVER: {
    status: 422,
    says: ({ why }: Pick<AtFile, 'why'>) =>
      `The part that reads and writes the catalogue's file is not here for this machine (${why}).`,
    remedy: 'Run "npm ci" again on this machine.',
  },
  CATALOGUE_NOT_OPENED: {
    status: 422,
    says: ({ path, why }: AtFile) => `${path}: the catalogue cannot be opened, ${why}.`,
    remedy: 'Mend that, or keep the catalogue in another folder.',
  },
  CATALOGUE_DAMAGED: {
    status: 422,
    says: ({ path, why }: AtFile) => `${path}: this is no sound catalogue file (${why}).`,
    remedy: 'Move it away, then import your last export, or synchronise again.',
  },
  CATALOGUE_NEWER: {
    status: 422,
    says: ({ path }: Pick<AtFile, 'path'>) => `${path}: a newer Needlewright made this catalogue.`,
    remedy: 'Open it with that one.',
  },
  CATALOGUE_KEY: {
    status: 422,
    says: ({ path, why }: AtFile) => `${path}: this is not the shop's key, ${why}.`,
    remedy: 'Put its copy back; or move it away and a new key is made, by which others do not know you yet.',
  },
  CATALOGUE_BUSY: {
    status: 422,
    says: ({ path }: Pick<AtFile, 'path'>) => `${path}: another program is writing to it and does not end.`,
    remedy: 'Wait until it is done, then try again.',
  },
  CATALOGUE_NOT_WRITTEN: {
    status: 422,
    says: ({ path, why }: AtFile) => `${path}: not written, ${why}. Nothing of this was kept.`,
    remedy: 'Make room on the disk, then try again.',
  },
  CARD_UNKNOWN: {
    status: 404,
    says: ({ typed }: { readonly typed: string }) => `No card of the catalogue is called "${typed}".`,
    remedy: 'Look for it in the list of the catalogue.',
  },
  CARD_AMBIGUOUS: {
    status: 422,
    says: ({ typed, names }: { readonly typed: string; readonly names: readonly string[] }) =>
      `"${typed}" may be ${names.slice(0, 5).join(', ')}${names.length > 5 ? ` or ${names.length - 5} more` : ''}.`,
    remedy: 'Give more letters.',
  },
  MODEL_UNKNOWN: {
    status: 404,
    says: ({ name, near }: { readonly name: string; readonly near: string | undefined }) =>
      `No card belongs to a model "${name}".${near === undefined ? '' : ` Did you mean "${near}"?`}`,
    remedy: 'Say of a card first that it is this model, or look for it by words.',
  },
  CARD_IS_NO_GAUGE: {
    status: 422,
    says: () => 'This is no gauge: a sender is picked for a gauge.',
    remedy: 'Open a card or a model of a gauge, or finish the sweep of the job.',
  },
  CATALOGUE_NOTHING_FINISHED: {
    status: 422,
    says: ({ title }: { readonly title: string }) =>
      `"${title}" has no finished sweep with three readings, and no sender with three points.`,
    remedy: 'Finish the sweep first.',
  },
  SYNC_SERVER: {
    status: 422,
    says: ({ why }: Pick<AtFile, 'why'>) => `The server of the catalogue does not answer (${why}).`,
    remedy: 'The catalogue works on here; synchronise again when the server is back.',
  },
  SYNC_NEWER: {
    status: 422,
    says: () => 'A newer Needlewright laid out the catalogue of this server.',
    remedy: 'Synchronise with that one.',
  },
  CARD_HAS_NO_SLIP: {
    status: 404,
    says: ({ name }: { readonly name: string }) => `${name} has no slip on this machine.`,
    remedy: '',
  },
} as const;
