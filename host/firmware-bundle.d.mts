export function firmwareBundle(
  entry: string,
  options?: { readonly format?: 'esm' | 'iife' },
): Promise<{ readonly text: string; readonly bytes: number }>;
