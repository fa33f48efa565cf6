import { hostname, networkInterfaces } from 'node:os';

/** Names under which this host may be called; a page of another name that points here is refused (DNS rebinding). */
export type Callers = {
  readonly isKnownHost: (hostHeader: string | undefined) => boolean;
  /** Absent for programs; browsers always send it on a socket and on a change. */
  readonly isKnownOrigin: (originHeader: string | undefined) => boolean;
};

const LOOPBACK_NAMES = ['localhost', '127.0.0.1', '[::1]'] as const;

const bracketed = (address: string): string => (address.includes(':') ? `[${address}]` : address);

/** Addresses and names of this machine on its own networks. */
function ownNames(): readonly string[] {
  const addresses = Object.values(networkInterfaces()).flatMap((each) => each ?? []);
  const name = hostname().toLowerCase();
  return [name, `${name}.local`, ...addresses.map((each) => bracketed(each.address.replace(/%.*$/, '')))];
}

/** Loopback names always; the machine's own names only when it was told to serve the local network. */
export function knownCallers(isLan: boolean, lanNames: readonly string[] = ownNames()): Callers {
  const names = new Set<string>([...LOOPBACK_NAMES, ...(isLan ? lanNames : [])]);
  const isKnownHost = (header: string | undefined): boolean => {
    const name = header === undefined ? undefined : nameOf(`http://${header}`);
    return name !== undefined && names.has(name);
  };
  const isKnownOrigin = (header: string | undefined): boolean => {
    if (header === undefined) return true;
    const name = nameOf(header);
    return name !== undefined && names.has(name);
  };
  return { isKnownHost, isKnownOrigin };
}

function nameOf(address: string): string | undefined {
  if (!/^https?:\/\//.test(address)) return undefined;
  try {
    const url = new URL(address);
    const isBare = url.pathname === '/' && url.username === '' && url.search === '';
    return isBare ? url.hostname.toLowerCase() : undefined;
  } catch {
    return undefined;
  }
}
