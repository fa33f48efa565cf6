/** One script of an entry and all it imports, without comments and spaces. */
export function firmwareBundle(
  entry: string,
  options?: {
    readonly format?: 'esm' | 'iife';
    readonly board?: 'reference' | 'first-build';
    readonly converter?: 'first' | 'second';
  },
): Promise<{ readonly text: string; readonly bytes: number }>;
