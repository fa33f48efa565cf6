import { describe, expect, it } from 'vitest';
import { problemFromError } from '../../host/link/serial-source';

/** What the serial library says on the three systems; seen on Linux, from its threads for the others. */
const said: readonly (readonly [string, string, string])[] = [
  ['Error: No such file or directory, cannot open /dev/ttyACM9', 'LINK_NO_SUCH_PORT', 'needlewright ports'],
  ['Opening COM9: File not found', 'LINK_NO_SUCH_PORT', 'plug the box in'],
  ['Error: Permission denied, cannot open /dev/ttyACM0', 'LINK_NO_PERMISSION', 'dialout group'],
  ['Error Resource temporarily unavailable Cannot lock port', 'LINK_PORT_BUSY', 'close the other program'],
  ['Opening COM3: Access denied', 'LINK_PORT_BUSY', 'close the other program'],
  [
    'Error: Inappropriate ioctl for device setting custom baud rate of 115200',
    'LINK_PORT_ERROR',
    'Inappropriate ioctl',
  ],
  ['Error: Is a directory, cannot open /tmp', 'LINK_PORT_ERROR', '(Is a directory)'],
  ['Error: bad file descriptor', 'LINK_UNPLUGGED', 'plug the box in again'],
];

describe('an error of the serial library', () => {
  it.each(said)('%s becomes %s with its remedy', (message, code, remedy) => {
    const problem = problemFromError('/dev/ttyACM0', new Error(message));
    expect(problem.code).toBe(code);
    expect(problem.message).toContain(remedy);
    expect(problem.message).not.toMatch(/\n|error:/i);
  });
});
