/** What happens at the bench for the wrong person, at the wrong moment, or of a past one. */
export const bench = [
  {
    file: 'host/bench/box/vital.ts',
    rule: 'a current of a meter that fell silent is not shown',
    from: 'const isMeterAwake = isMeterRead && (',
    to: 'const isMeterAwake = (',
    tests: ['tests/bench/stale-news.test.ts'],
  },
  {
    file: 'host/bench/decide/decide-undo.ts',
    rule: 'nobody takes back what somebody of a like name entered',
    from: 'if (event.by !== by) {',
    to: 'if (!event.by.startsWith(by)) {',
    tests: ['tests/bench/undo.test.ts'],
  },
  {
    file: 'host/bench/box/output.ts',
    rule: 'a heartbeat from before the setting vouches for nothing',
    from: 'vital.atMs > sinceMs && vital.isOutputMade',
    to: 'vital.isOutputMade',
    tests: ['tests/bench/stale-news.test.ts'],
  },
  {
    file: 'host/bench/sweep/sweep-run.ts',
    rule: 'only who drives the sweep keeps its output closed',
    from: 'presence.isPresent(attending, nowMs)',
    to: 'presence.everyone(nowMs).length > 0',
    tests: ['tests/bench/interruptions.test.ts', 'tests/bench/ending.test.ts'],
  },
  {
    file: 'host/bench/box/pulse-heat.ts',
    rule: 'the heat of another resistance is not the heat of this one',
    from: 'atMs > output.madeAtMs && clock',
    to: 'clock',
    tests: ['tests/bench/pulsing-feed.test.ts'],
  },
  {
    file: 'host/bench/open-job.ts',
    rule: 'a stop pressed while a start is written is the stronger',
    from: 'if (this.#stopCount !== stopCount) {',
    to: 'if (this.#stopCount < stopCount) {',
    tests: ['tests/bench/interruptions.test.ts', 'tests/bench/ending.test.ts'],
  },
];
