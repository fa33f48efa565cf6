import { linkProblem } from './problems';
import {
  identityOfPath,
  listPorts,
  pathOfIdentity,
  usbPorts,
  type PortIdentity,
  type PortList,
} from './ports';
import { serialSource } from './serial-source';
import type { ByteSource, LinkClock, LinkProblem } from './types';

/** Finds, before each opening, what to open. */
export type SourceFinder = () => Promise<ByteSource | LinkProblem>;

export type PortFinderDoor = {
  readonly list?: () => Promise<PortList>;
  readonly open?: (path: string, clock?: LinkClock) => ByteSource;
};

/**
 * Finds a box by path, or the only USB serial port when no path is given. Once seen, a USB box is found by its vendor,
 * product and serial number: after a replug the system may give it another path, and its old path to another device.
 */
export function portFinder(path: string | undefined, door: PortFinderDoor = {}): SourceFinder {
  const { list = listPorts, open = serialSource } = door;
  let identity: PortIdentity | undefined;
  return async () => {
    const { ports } = await list();
    if (identity !== undefined) {
      const now = pathOfIdentity(ports, identity);
      return now === undefined
        ? linkProblem('LINK_NO_SUCH_PORT', { title: titleOf(identity, path) })
        : open(now);
    }
    const chosen = path ?? onlyPath(usbPorts(ports).map((port) => port.path));
    if (typeof chosen !== 'string') return chosen;
    identity = identityOfPath(ports, chosen);
    return open(chosen);
  };
}

function onlyPath(paths: readonly string[]): string | LinkProblem {
  const [first] = paths;
  if (first === undefined) return linkProblem('LINK_NO_PORTS', { title: '' });
  return paths.length === 1
    ? first
    : linkProblem('LINK_SEVERAL_PORTS', { title: '', detail: paths.join(', ') });
}

const titleOf = (identity: PortIdentity, path: string | undefined): string =>
  `${path ?? 'of the box'} (USB ${identity.vendorId ?? '?'}:${identity.productId ?? '?'}, serial number ${identity.serialNumber ?? 'none'})`;
