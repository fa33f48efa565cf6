import { readdir } from 'node:fs/promises';
import { listByBinding } from './serial-source';
import type { PortInfo } from './types';

/** How a box is found again after it was unplugged: its path may have changed, its USB identity has not. */
export type PortIdentity = {
  readonly vendorId?: string | undefined;
  readonly productId?: string | undefined;
  readonly serialNumber?: string | undefined;
};

export type PortList = { readonly ports: readonly PortInfo[]; readonly warning: string | undefined };

/**
 * The serial ports of this machine, by path. On Linux the library asks `udevadm`, which slim systems lack; then the
 * device folder is read instead and the ports come without a USB identity. Never rejects.
 */
export async function listPorts(list: () => Promise<PortInfo[]> = listByBinding): Promise<PortList> {
  try {
    return { ports: byPath(await list()), warning: undefined };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    const warning = `the system could not name its serial ports (${reason}); only their paths are known`;
    return { ports: byPath(await listDeviceFolder()), warning };
  }
}

async function listDeviceFolder(folder = '/dev'): Promise<PortInfo[]> {
  const names = await readdir(folder).catch(() => []);
  return names
    .filter((name) => /^(ttyUSB|ttyACM|ttyAMA|cu\.)/.test(name))
    .map((name) => ({
      path: `${folder}/${name}`,
      manufacturer: undefined,
      vendorId: undefined,
      productId: undefined,
      serialNumber: undefined,
    }));
}

const byPath = (ports: readonly PortInfo[]): PortInfo[] =>
  [...ports].sort((a, b) => a.path.localeCompare(b.path, 'en', { numeric: true }));

/** Ports that may be a box: USB ones. A built-in port has no vendor number. */
export const usbPorts = (ports: readonly PortInfo[]): PortInfo[] =>
  ports.filter((port) => port.vendorId !== undefined || /ttyUSB|ttyACM|cu\.usb/.test(port.path));

/** The identity of the port at `path`, or undefined where it has none (a built-in port, a pseudo-terminal). */
export function identityOfPath(ports: readonly PortInfo[], path: string): PortIdentity | undefined {
  const port = ports.find((candidate) => candidate.path === path);
  if (port?.vendorId === undefined) return undefined;
  return { vendorId: port.vendorId, productId: port.productId, serialNumber: port.serialNumber };
}

/**
 * Where the device of that identity is now. When several fit (two boxes of one kind without serial numbers) none is
 * chosen: driving the wrong car's gauge is worse than asking.
 */
export function pathOfIdentity(ports: readonly PortInfo[], identity: PortIdentity): string | undefined {
  const fitting = ports.filter(
    (port) =>
      same(port.vendorId, identity.vendorId) &&
      same(port.productId, identity.productId) &&
      (identity.serialNumber === undefined || port.serialNumber === identity.serialNumber),
  );
  return fitting.length === 1 ? fitting[0]?.path : undefined;
}

/** Systems differ in the case of the hexadecimal digits. */
const same = (a: string | undefined, b: string | undefined): boolean => a?.toLowerCase() === b?.toLowerCase();
