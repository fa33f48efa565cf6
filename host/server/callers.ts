import { hostname, networkInterfaces } from 'node:os';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';

/** What is known of a request before it is answered. Header fields are as they were sent. */
export type Call = {
  readonly method: string;
  readonly path: string;
  readonly host: string | undefined;
  readonly origin: string | undefined;
  readonly fetchSite: string | undefined;
  readonly fetchMode: string | undefined;
  readonly contentType: string | undefined;
  /** The port of this host the request came in by. */
  readonly port: number | undefined;
  /** The address at the other end. */
  readonly peer: string | undefined;
};

/** `here`: a program or page of this machine itself, under a loopback name; `network`: everybody else. */
export type CallerPlace = 'here' | 'network';

export type Callers = {
  readonly isLan: boolean;
  /** Where a request comes from, or why it is not answered (UNKNOWN_CALLER). */
  readonly judge: (call: Call) => { readonly kind: 'caller'; readonly place: CallerPlace } | Refused;
  /** Addresses of the page for another device, the likeliest first. */
  readonly pageAddresses: (port: number) => readonly string[];
};

type Names = { readonly names: readonly string[]; readonly addresses: readonly string[] };
type Authority = { readonly name: string; readonly port: number };

const LOOPBACK_NAMES = new Set(['localhost', '127.0.0.1', '[::1]']);
const LOOPBACK_PEER = /^(?:::1|(?:::ffff:)?127\.\d+\.\d+\.\d+)$/;
const HTTP_PORT = 80;
/** A form of another site sends none of these without asking first. Source: Fetch (WHATWG), CORS-safelisted request-header. */
const NO_FORM_SENDS = /^(?:application\/json|image\/(?:jpeg|png))(?=\s*(?:;|$))/i;
const READS = new Set(['GET', 'HEAD']);
const NAMES_KEPT_MS = 3_000;

/**
 * Judges who may call. Names are those of this moment: a hotspot or a new lease counts within seconds.
 *
 * A page of another name that points here sends its own name as Host (DNS rebinding). A page of another port of this
 * machine sends its own port in Origin. An image or a form of another site sends no Origin in some browsers, but says so
 * in Sec-Fetch-Site, or cannot send JSON or a picture. A program sends neither, and is taken at its word.
 */
export function knownCallers(
  isLan: boolean,
  namesNow: () => Names = ownNames,
  nowMs: () => number = () => performance.now(),
): Callers {
  let kept: { readonly names: Names; readonly atMs: number } | undefined;
  const current = (): Names => {
    if (kept === undefined || nowMs() - kept.atMs > NAMES_KEPT_MS)
      kept = { names: namesNow(), atMs: nowMs() };
    return kept.names;
  };
  const isOwnName = (name: string): boolean =>
    LOOPBACK_NAMES.has(name) ||
    (isLan && (current().names.includes(name) || current().addresses.includes(name)));
  return {
    isLan,
    judge: (call) => {
      const called = authorityOf(`http://${call.host ?? ''}`);
      if (called === undefined || called.port !== call.port || !isOwnName(called.name)) return notMine;
      if (!isOwnPage(call, called)) return foreignPage;
      const isHere = LOOPBACK_NAMES.has(called.name) && LOOPBACK_PEER.test(call.peer ?? '');
      return { kind: 'caller', place: isHere ? 'here' : 'network' };
    },
    pageAddresses: (port) => {
      const { addresses, names } = current();
      const local = names.filter((name) => name.endsWith('.local'));
      return [...addresses.filter((each) => !each.startsWith('[')), ...local].map((each) =>
        port === HTTP_PORT ? `http://${each}/` : `http://${each}:${port}/`,
      );
    },
  };
}

const notMine = refuse('UNKNOWN_CALLER', { by: 'name' });
const foreignPage = refuse('UNKNOWN_CALLER', { by: 'page' });

function isOwnPage(call: Call, called: Authority): boolean {
  if (call.origin !== undefined) {
    const origin = authorityOf(call.origin);
    if (origin === undefined || origin.name !== called.name || origin.port !== called.port) return false;
  }
  const isRead = READS.has(call.method);
  if (call.fetchSite === 'same-origin') return true;
  if (call.fetchSite === 'none') return isRead;
  // A link of another site may lead to the page; what it then does is asked for by the page itself.
  if (call.fetchSite !== undefined) return isRead && call.fetchMode === 'navigate' && !isWork(call.path);
  return isRead || call.origin !== undefined || NO_FORM_SENDS.test(call.contentType ?? '');
}

const isWork = (path: string): boolean => /^\/(?:api|live)(?:[/?]|$)/.test(path);

function authorityOf(address: string): Authority | undefined {
  if (!address.startsWith('http://') || !URL.canParse(address)) return undefined;
  const url = new URL(address);
  const isBare = url.pathname === '/' && url.username === '' && url.search === '' && url.hash === '';
  if (!isBare || address.endsWith('/')) return undefined;
  return { name: url.hostname.toLowerCase(), port: url.port === '' ? HTTP_PORT : Number(url.port) };
}

const bracketed = (address: string): string => (address.includes(':') ? `[${address}]` : address);

/** Networks inside this machine (virtual machines, containers) come last: no phone is on them. */
const isInside = (networkName: string): boolean =>
  /^(?:docker|br-|veth|virbr|vmnet|vEthernet)/i.test(networkName);

/** Names and addresses of this machine on its own networks. */
function ownNames(): Names {
  const networks = Object.entries(networkInterfaces()).sort(
    ([one], [other]) => Number(isInside(one)) - Number(isInside(other)),
  );
  const addresses = networks
    .flatMap(([, each]) => each ?? [])
    .filter((each) => !each.internal)
    .map((each) => bracketed(each.address.replace(/%.*$/, '').toLowerCase()));
  const name = hostname().toLowerCase();
  const short = name.replace(/\..*$/, '');
  return { names: [...new Set([name, short, `${short}.local`])], addresses };
}
