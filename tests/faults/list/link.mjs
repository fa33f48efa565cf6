/** What reaches the box that should not, and what does not end. */
export const link = [
  {
    file: 'host/link/exchange.ts',
    rule: 'a setting that a stop has overtaken is not sent again',
    from: 'current.cancelTimer();\n    this.#outstanding = undefined;\n    current.settle(this.#failed(',
    to: 'this.#outstanding = undefined;\n    current.settle(this.#failed(',
    tests: ['tests/link/open-link.test.ts', 'tests/link/standstill.test.ts'],
  },
  {
    file: 'host/link/guard-link.ts',
    rule: 'a box that does not confirm its opening gets no more heartbeats',
    from: 'void within(OPEN_LIMIT_MS, () => this.#link.close(), this.#clock);',
    to: '',
    tests: ['tests/link/keep-link.test.ts', 'tests/bench/box-hangs.test.ts'],
  },
  {
    file: 'host/link/open-link.ts',
    rule: 'an answer to an earlier greeting is no greeting',
    from: 'result.fields.hostNonce !== this.#nonce',
    to: 'result.fields.hostNonce === undefined',
    tests: ['tests/link/open-link.test.ts'],
  },
  {
    file: 'host/link/ports.ts',
    rule: 'of two boxes that look alike none is chosen',
    from: 'fitting.length === 1 ?',
    to: 'fitting.length >= 1 ?',
    tests: ['tests/link/find-port.test.ts'],
  },
];
