const megabyte = (bytes: number): string => `${Number((bytes / 2 ** 20).toPrecision(2))} MB`;

/** Refusals of photographs. */
export const photographRefusals = {
  PHOTOGRAPH_NO_PICTURE: {
    status: 422,
    says: ({ why }: { readonly why: string }) => `This file is no picture that a job keeps: ${why}.`,
    remedy: 'Give a JPEG or a PNG.',
  },
  PHOTOGRAPH_TOO_LARGE: {
    status: 422,
    says: ({ mostBytes, mostSidePixel }: { readonly mostBytes: number; readonly mostSidePixel: number }) =>
      `This picture is too large: at most ${megabyte(mostBytes)} and ${mostSidePixel} pixels a side.`,
    remedy: 'Make it smaller, or add it on the page, which does that by itself.',
  },
  PHOTOGRAPH_TOO_SMALL: {
    status: 422,
    says: ({ leastSidePixel }: { readonly leastSidePixel: number }) =>
      `This picture is too small to read anything on it: at least ${leastSidePixel} pixels a side.`,
    remedy: 'Give the picture itself, not its preview.',
  },
  PHOTOGRAPHS_FULL: {
    status: 422,
    says: ({ most }: { readonly most: number }) => `A job keeps at most ${most} photographs.`,
    remedy: 'Delete one first.',
  },
  PHOTOGRAPH_GONE: {
    status: 404,
    says: ({ photographId }: { readonly photographId: string }) =>
      `There is no photograph "${photographId}" in this job, or its file is gone or another one.`,
    remedy: 'Look at the sheet again: it may have been deleted.',
  },
  PHOTOGRAPH_FILE: { status: 422, says: ({ why }: { readonly why: string }) => why, remedy: '' },
} as const;
