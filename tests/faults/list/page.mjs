/** What a person at the page is told that is not so, or what a press does not do. */
export const page = [
  {
    file: 'host/web/connection/lost-contact.ts',
    rule: 'a box whose state nobody knows is not taken for open',
    from: "next.link.state === 'live' && next.box.state !== 'unknown'",
    to: "next.link.state === 'live'",
    tests: ['tests/web/lost-contact.test.ts'],
  },
  {
    file: 'host/web/entry/entry.ts',
    rule: 'typed and rubbed out again, a needle off its stop is not given',
    from: "stands: entry.atStop === undefined ? entry.stands : 'unset'",
    to: 'stands: entry.stands',
    tests: ['tests/web/entry.test.ts'],
  },
  {
    file: 'host/web/connection/join-events.ts',
    rule: 'a hole in the events is asked for, not skipped',
    from: 'if (event.n !== joined.length + 1) return undefined;',
    to: '',
    tests: ['tests/web/model.test.ts'],
  },
  {
    file: 'host/web/connection/job-connection.ts',
    rule: 'a stop that could not be sent is sent when the host is back',
    from: "if (job.stopNews.get()?.kind === 'unsent') stop();",
    to: '',
    tests: ['tests/web/socket.test.ts'],
  },
];
