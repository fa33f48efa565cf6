/** What reaches the box that should not, and what does not end. */
export const link = [
  {
    file: 'host/link/exchange.ts',
    rule: 'a setting that a stop has overtaken is not sent again',
    from: 'current.cancelTimer();\n    this.#outstanding = undefined;\n    current.settle(this.#failed(',
    to: 'this.#outstanding = undefined;\n    current.settle(this.#failed(',
    tests: ['tests/link/open-link.test.ts'],
  },
  {
    file: 'host/link/exchange.ts',
    rule: 'a box that measures its own parts is given the time for it',
    from: "'calibrateElement', 'calibrateStore']",
    to: "'calibrateStore']",
    tests: ['tests/bench/calibrate.test.ts', 'tests/link/real-firmware.test.ts'],
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
