/** What the needle is held against. `other`: anything whose own certificate is given. */
export const referenceKinds = [
  'flow-probe',
  'soak',
  'infrared',
  'scan-tool',
  'thermostat',
  'pump',
  'master-gauge',
  'other',
] as const;
export type ReferenceKind = (typeof referenceKinds)[number];
