import type { IncomingMessage } from 'node:http';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { Right } from '../job/wire/host-messages';
import type { Callers } from './callers';
import type { Device, Devices } from './devices';

/** Who is at the other end of a request or a socket. What he may do is asked of the gate each time: it may change. */
export type Visitor = {
  readonly kind: 'visitor';
  /** A program or page of this machine: needs no pairing. */
  readonly isHere: boolean;
  /** The paired device whose token came along. */
  readonly device: Device | undefined;
  readonly isPage: boolean;
  readonly peer: string;
};

/** What a request needs: nothing, a right, or to come from this machine. */
export type Need = 'nothing' | Right | 'here';

export type Gate = {
  /** Refuses UNKNOWN_CALLER. */
  admit(request: IncomingMessage): Visitor | Refused;
  visitorOf(request: IncomingMessage): Visitor;
  rightOf(visitor: Visitor): Right | undefined;
  /** Why not: HOST_ONLY, NOT_PAIRED or WATCH_ONLY. */
  whyNot(visitor: Visitor, need: Need): Refused | undefined;
};

const OPEN_TO_ALL = new Set(['/api/greeting', '/api/stop', '/api/pair']);
const HERE_ONLY = /^\/api\/(?:pairing|devices)(?:\/|$)/;

/** `route`: the pattern the server matched, so that no spelling of an address slips past. */
export function needOf(method: string, route: string | undefined): Need {
  if (route === undefined || !route.startsWith('/api/') || OPEN_TO_ALL.has(route)) return 'nothing';
  if (HERE_ONLY.test(route)) return 'here';
  return method === 'GET' || method === 'HEAD' ? 'watch' : 'operate';
}

/** Cookies know no ports: two hosts on one machine must not overwrite each other's. */
export const deviceCookie = (port: number | undefined): string => `needlewright-${port ?? 0}`;

export function createGate(callers: Callers, devices: Devices): Gate {
  const visitors = new WeakMap<IncomingMessage, Visitor>();
  const rightOf = ({ isHere, device }: Visitor): Right | undefined =>
    isHere ? 'operate' : device && devices.byId(device.id)?.right;
  return {
    admit(request) {
      const { headers, socket } = request;
      const judged = callers.judge({
        method: request.method ?? '',
        path: request.url ?? '',
        host: headers.host,
        origin: headers.origin,
        fetchSite: oneOf(headers['sec-fetch-site']),
        fetchMode: oneOf(headers['sec-fetch-mode']),
        contentType: headers['content-type'],
        port: socket.localPort,
        peer: socket.remoteAddress,
      });
      if (judged.kind === 'refused') return judged;
      const token = tokenOf(request);
      const isHere = judged.place === 'here';
      const visitor: Visitor = {
        kind: 'visitor',
        isHere,
        device: isHere || token === undefined ? undefined : devices.find(token),
        isPage: headers.origin !== undefined || headers['sec-fetch-site'] !== undefined,
        peer: socket.remoteAddress ?? '',
      };
      visitors.set(request, visitor);
      return visitor;
    },
    visitorOf: (request) =>
      visitors.get(request) ?? { kind: 'visitor', isHere: false, device: undefined, isPage: false, peer: '' },
    rightOf,
    whyNot(visitor, need) {
      if (need === 'nothing') return undefined;
      if (need === 'here') return visitor.isHere ? undefined : hostOnly;
      const may = rightOf(visitor);
      if (may === undefined) return notPaired;
      return may === 'watch' && need === 'operate' ? watchOnly : undefined;
    },
  };
}

const hostOnly = refuse('HOST_ONLY');
const notPaired = refuse('NOT_PAIRED');
const watchOnly = refuse('WATCH_ONLY');

const oneOf = (header: string | string[] | undefined): string | undefined =>
  Array.isArray(header) ? header.join(',') : header;

function tokenOf({ headers, socket }: IncomingMessage): string | undefined {
  const bearer = /^Bearer ([\w.-]+)$/.exec(headers.authorization ?? '')?.[1];
  if (bearer !== undefined) return bearer;
  const start = `${deviceCookie(socket.localPort)}=`;
  const cookies = (headers.cookie ?? '').split(/;\s*/);
  return cookies.find((cookie) => cookie.startsWith(start))?.slice(start.length);
}
