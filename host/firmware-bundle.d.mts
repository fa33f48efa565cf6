export function firmwareBundle(
  entry: string,
  options?: { readonly format?: 'esm' | 'iife' },
): Promise<{
  readonly text: string;
  readonly bytes: number;
  /** What became of each word of the sources. */
  readonly names: Readonly<Record<string, string>>;
}>;
