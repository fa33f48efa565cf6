/** One deliberate one-line fault each: `from` stands once in `file`; one of `tests` must fail with `to` in its place. */
export const faults = [
  {
    file: 'firmware-ts/guard/dead-man.ts',
    rule: 'a silence that is no number opens the output',
    from: '!(hostSilentMs <= leaseMs)',
    to: 'hostSilentMs > leaseMs',
    tests: ['tests/firmware/guard'],
  },
];
