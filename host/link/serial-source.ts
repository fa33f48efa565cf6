import { readlink, stat } from 'node:fs/promises';
import { autoDetect } from '@serialport/bindings-cpp';
import { SerialPortStream } from '@serialport/stream';
import { portCall } from './busy-ports';
import { systemClock } from './clock';
import { linkProblem } from './problems';
import type {
  ByteConnection,
  ByteListener,
  ByteSource,
  LinkClock,
  LinkProblem,
  LinkProblemCode,
  PortInfo,
} from './types';

const BAUD_RATE = 115_200;
const OPEN_DEADLINE_MS = 2000;
const CLOSE_DEADLINE_MS = 1000;

type Port = SerialPortStream;

/**
 * A serial port by path. Every `connect` makes one port object and that object serves one opening: a re-opened one can
 * report itself open while every write fails.
 */
export function serialSource(path: string, clock: LinkClock = systemClock): ByteSource {
  return { title: path, connect: (listener) => connectPort(path, clock, listener) };
}

async function connectPort(
  path: string,
  clock: LinkClock,
  listener: ByteListener,
): Promise<ByteConnection | LinkProblem> {
  const stranger = await notSerial(path);
  if (stranger !== undefined) return stranger;
  const made = makePort(path);
  if ('code' in made) return made;
  const port = made;
  let isOver = false;
  const lost = (problem: LinkProblem): void => {
    if (isOver) return;
    isOver = true;
    listener.lost(problem);
  };
  // Without an error listener a cancelled write ends the process, so it is there before anything is opened.
  // Whatever goes wrong with a port that was open means that it is there no longer; the system words it in many ways.
  port.on('error', () => lost(linkProblem('LINK_UNPLUGGED', { title: path })));
  const refusal = await openPort(port, path, clock);
  if (refusal !== undefined) {
    isOver = true;
    return refusal;
  }
  port.on('close', () => lost(linkProblem('LINK_UNPLUGGED', { title: path })));
  port.on('data', (bytes: Uint8Array) => {
    if (!isOver) listener.received(bytes);
  });
  return {
    write(bytes) {
      // A write to a port that is not open is kept and sent at the next opening; such a command must never exist.
      if (!isOver && port.isOpen) port.write(Buffer.from(bytes));
    },
    close() {
      isOver = true;
      return closePort(port, clock);
    },
  };
}

const WINDOWS_PORT = /^(\\\\\.\\)?com\d+$/i;

/** Minor and major numbers as glibc packs them. Source: makedev(3), Linux. */
const numbersOf = (rdev: bigint): { readonly major: bigint; readonly minor: bigint } => ({
  major: ((rdev >> 8n) & 0xfffn) | ((rdev >> 32n) & ~0xfffn),
  minor: (rdev & 0xffn) | ((rdev >> 12n) & ~0xffn),
});

/** Pseudo-terminals. Source: Linux, Documentation/admin-guide/devices.txt. */
const isPseudo = (major: bigint): boolean => major >= 136n && major <= 143n;

/** Only to open a device can do something: a watchdog starts, a tape winds back. Linux tells without opening it. */
const isOtherDevice = async (rdev: bigint): Promise<boolean> => {
  const { major, minor } = numbersOf(rdev);
  const subsystem = await readlink(`/sys/dev/char/${major}:${minor}/subsystem`).catch(() => undefined);
  return !isPseudo(major) && subsystem !== undefined && !subsystem.endsWith('/tty');
};

/**
 * Why nothing may be opened under this path: a file, a folder, a pipe, a device of another kind. Undefined for a serial
 * device, and for a path where nothing is: a box that is not plugged in yet. Where the system does not say of which kind a
 * device is, its opening tells.
 */
export async function notSerial(
  path: string,
  platform: string = process.platform,
): Promise<LinkProblem | undefined> {
  const problem = linkProblem('LINK_NOT_SERIAL', { title: path });
  if (platform === 'win32') return WINDOWS_PORT.test(path) ? undefined : problem;
  const found = await stat(path, { bigint: true }).catch(() => undefined);
  if (found === undefined) return undefined;
  return found.isCharacterDevice() && !(await isOtherDevice(found.rdev)) ? undefined : problem;
}

/** No RTS drop at close (`hupcl`): on boards with a USB port of their own that resets the processor. */
function makePort(path: string): Port | LinkProblem {
  try {
    const binding = autoDetect();
    return new SerialPortStream({
      binding,
      path,
      baudRate: BAUD_RATE,
      autoOpen: false,
      hupcl: false,
      lock: true,
    });
  } catch (error) {
    return linkProblem('LINK_PORT_ERROR', { title: path, detail: messageOf(error) });
  }
}

function openPort(port: Port, path: string, clock: LinkClock): Promise<LinkProblem | undefined> {
  return new Promise((resolve) => {
    let isLate = false;
    const cancel = clock.after(OPEN_DEADLINE_MS, () => {
      isLate = true;
      resolve(linkProblem('LINK_OPEN_TIMEOUT', { title: path }));
    });
    const answered = portCall();
    port.open((error) => {
      answered();
      cancel();
      // Closing while it opens does not stop the opening, so a late one is closed here.
      if (isLate && !error) void closePort(port, clock);
      resolve(error ? problemFromError(path, error) : undefined);
    });
  });
}

/** `close`, never `destroy`: destroying leaks the descriptor and leaves the read loop spinning. */
function closePort(port: Port, clock: LinkClock): Promise<void> {
  return new Promise((resolve) => {
    if (!port.isOpen) {
      resolve();
      return;
    }
    const cancel = clock.after(CLOSE_DEADLINE_MS, resolve);
    const answered = portCall();
    port.close(() => {
      answered();
      cancel();
      resolve();
    });
  });
}

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** The binding gives no error numbers, only the system's sentences; these are the ones Linux, macOS and Windows use. */
const errorWords: readonly (readonly [RegExp, LinkProblemCode])[] = [
  [/no such file|file not found|unknown error code 2\b/i, 'LINK_NO_SUCH_PORT'],
  [/cannot lock port|resource busy|temporarily unavailable/i, 'LINK_PORT_BUSY'],
  [/access (is )?denied/i, 'LINK_PORT_BUSY'],
  [/permission denied|operation not permitted/i, 'LINK_NO_PERMISSION'],
  [/disconnected|bad file descriptor|canceled|input\/output error|no such device/i, 'LINK_UNPLUGGED'],
];

/** Sorts what the serial library says into the problems a person can act on. */
export function problemFromError(path: string, error: unknown): LinkProblem {
  const detail = messageOf(error);
  const known = errorWords.find(([words]) => words.test(detail));
  return linkProblem(known?.[1] ?? 'LINK_PORT_ERROR', { title: path, detail: withoutPrefix(detail) });
}

const withoutPrefix = (detail: string): string =>
  detail.replace(/^(error:?\s*)+/i, '').replace(/, cannot open.*$/i, '');

/** The library's list of ports. Rejects where the system's device tool is missing. */
export const listByBinding = async (): Promise<PortInfo[]> =>
  (await autoDetect().list()).map((port) => ({
    path: port.path,
    manufacturer: port.manufacturer,
    vendorId: port.vendorId,
    productId: port.productId,
    serialNumber: port.serialNumber,
  }));
