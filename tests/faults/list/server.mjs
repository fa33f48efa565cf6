/** Who is let in, who is taken for whom, and what is kept too long. */
export const server = [
  {
    file: 'host/server/gate.ts',
    rule: 'a right that was taken away is gone on an open socket too',
    from: 'device && devices.byId(device.id)?.right',
    to: 'device?.right',
    tests: ['tests/server/pairing.test.ts', 'tests/server/gate.test.ts'],
  },
  {
    file: 'host/server/callers.ts',
    rule: 'a phone that says it calls localhost is no program of this machine',
    from: "LOOPBACK_NAMES.has(called.name) && LOOPBACK_PEER.test(call.peer ?? '')",
    to: 'LOOPBACK_NAMES.has(called.name)',
    tests: ['tests/server/callers.test.ts'],
  },
  {
    file: 'host/server/pairing.ts',
    rule: 'a pairing code lets one device in',
    from: 'this.close();',
    to: '',
    tests: ['tests/server/pairing.test.ts'],
  },
  {
    file: 'host/server/screen.ts',
    rule: 'a screen that reloads has not gone while its new socket is there',
    from: 'if (leave() === 0)',
    to: 'if (leave() <= 1)',
    tests: ['tests/server/screens.test.ts'],
  },
  {
    file: 'host/server/findings/computer.ts',
    rule: 'a computation that failed is tried again',
    from: 'fresh.catch(() => kept.delete(key));',
    to: 'fresh.catch(() => undefined);',
    tests: ['tests/server/computer.test.ts'],
  },
];
