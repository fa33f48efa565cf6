import fc from 'fast-check';

/** Any text at all, halves of surrogate pairs included; fast-check's own unit for it takes seconds to set up. */
export const anyText = (maxLength: number): fc.Arbitrary<string> =>
  fc.string({
    unit: fc.oneof(
      fc.integer({ min: 0x20, max: 0x7e }).map((code) => String.fromCharCode(code)),
      fc.integer({ min: 0, max: 0xffff }).map((code) => String.fromCharCode(code)),
    ),
    maxLength,
  });
