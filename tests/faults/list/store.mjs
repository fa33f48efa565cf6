/** What a cut, a copy or a second program does to a journal. */
export const store = [
  {
    file: 'host/store/journal.ts',
    rule: 'an accepted event is on the disk',
    from: 'await file.appendFile(lines);\n      await file.datasync();',
    to: 'await file.appendFile(lines);',
    tests: ['tests/store/journal.test.ts', 'tests/store/journal-place.test.ts'],
  },
  {
    file: 'host/store/journal.ts',
    rule: 'a job that turned out to be another one is unlocked again',
    from: 'await opened.writable?.lock.release();',
    to: '',
    tests: ['tests/store/journal-place.test.ts', 'tests/store/read-only.test.ts'],
  },
  {
    file: 'host/store/lock.ts',
    rule: 'a lock of another computer is respected',
    from: 'held.host !== hostname() || isAlive(held)',
    to: 'isAlive(held)',
    tests: ['tests/store/journal.test.ts', 'tests/store/read-only.test.ts'],
  },
  {
    file: 'host/store/journal-text.ts',
    rule: 'a line of zeros is cut off with its line end',
    from: 'wholeBytes - last.bytes.length - 1',
    to: 'wholeBytes - last.bytes.length',
    tests: ['tests/store/journal.test.ts', 'tests/store/checksum.test.ts'],
  },
  {
    file: 'host/store/list-jobs.ts',
    rule: 'a journal of the same length is read anew when it was written',
    from: '[ino, size, mtimeNs, ctimeNs]',
    to: '[ino, size]',
    tests: ['tests/store/list-jobs.test.ts'],
  },
];
