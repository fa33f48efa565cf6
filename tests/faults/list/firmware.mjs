/** What keeps the output closed, or breaks a part. */
export const firmware = [
  {
    file: 'firmware-ts/guard/dead-man.ts',
    rule: 'a silence that is no number opens the output',
    from: '!(hostSilentMs <= leaseMs)',
    to: 'hostSilentMs > leaseMs',
    tests: ['tests/firmware/guard'],
  },
  {
    file: 'firmware-ts/guard/current.ts',
    rule: 'a current the other way round is too much as well',
    from: 'Math.abs(currentMicroamp) /',
    to: 'currentMicroamp /',
    tests: ['tests/firmware/guard'],
  },
  {
    file: 'firmware-ts/ladder/moves.ts',
    rule: 'contacts open before others close',
    from: 'go(present & wanted,',
    to: 'go(present | wanted,',
    tests: ['tests/firmware/ladder'],
  },
  {
    file: 'firmware-ts/box/box.ts',
    rule: 'a host that greets anew finds the output open',
    from: 'this.#hostNonce !== undefined && hostNonce !== this.#hostNonce',
    to: 'this.#hostNonce === undefined',
    tests: ['tests/firmware/box', 'tests/link/real-firmware.test.ts'],
  },
  {
    file: 'firmware-ts/calibration/store.ts',
    rule: 'the better of two copies is written over last',
    from: 'isFirstBetter ? [sectors[1], sectors[0]] : sectors',
    to: 'isFirstBetter ? sectors : [sectors[1], sectors[0]]',
    tests: ['tests/firmware/calibration/store.test.ts'],
  },
  {
    file: 'firmware-ts/box/channel.ts',
    rule: 'without a fresh meter the coils are not fed',
    from: 'this.#wantsCoils() && nowMs - this.parts.meter.sampledAtMs <= METER_SILENT_MS',
    to: 'this.#wantsCoils()',
    tests: ['tests/firmware/box', 'tests/firmware/pulses.test.ts'],
  },
  {
    file: 'firmware-ts/uptime.ts',
    rule: 'time goes on when the count of the runtime wraps',
    from: '(later - earlier) | 0',
    to: 'later - earlier',
    tests: ['tests/firmware/uptime.test.ts'],
  },
];
