export type Fault = {
  readonly file: string;
  /** What the product does, and with the fault no longer does. */
  readonly rule: string;
  readonly from: string;
  readonly to: string;
  /** Words of the test files that a developer would run. */
  readonly tests: readonly string[];
  /** The built page or program is tested. */
  readonly isBuilt?: boolean;
};
export const faults: readonly Fault[];
