export const plain = (name: string): string => name.normalize('NFKC').trim().toLowerCase();

/** Two names a person would take for one. */
export const sameName = (one: string, other: string): boolean => plain(one) === plain(other);
