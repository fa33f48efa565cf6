// Assertions that run in any engine: each failure says what was expected and what came.

/** A rule of the firmware and the code that holds it to it. */
export type Scenario = { readonly title: string; readonly run: () => void };

export const rule = (title: string, run: () => void): Scenario => ({ title, run });

export function isTrue(condition: boolean, what: string): void {
  if (!condition) throw new Error(`expected: ${what}`);
}

export function equal(actual: unknown, expected: unknown, what: string): void {
  const [found, wanted] = [JSON.stringify(actual), JSON.stringify(expected)];
  if (found !== wanted) throw new Error(`${what}: expected ${wanted}, got ${found}`);
}

export function near(
  actual: number | undefined,
  expected: number,
  options: { by: number; what: string },
): void {
  const gap = Math.abs((actual ?? NaN) - expected);
  if (!(gap <= options.by)) {
    throw new Error(`${options.what}: expected ${expected} +- ${options.by}, got ${actual}`);
  }
}
