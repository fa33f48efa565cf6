import { createHash, timingSafeEqual } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { renderSVG } from 'uqr';
import { z } from 'zod';
import { refuse } from '../refusals';
import {
  deviceOrder,
  pairingOrder,
  pairRequest,
  type DeviceListing,
  type Greeting,
  type PairingView,
} from '../job/wire/host-messages';
import { name } from '../job/schema/values';
import { answerWith, checked } from './answer';
import type { RouteParts } from './route-parts';
import { deviceCookie, type Visitor } from './gate';
import type { PairingState } from './pairing';
import { isOwnSignature } from './screen-names';

const stopBody = z.strictObject({ token: name });
const devicePath = z.object({ id: name });
const COOKIE_SECONDS = 30 * 86_400;

/** Greeting, STOP, and how devices are let in and out. */
export function gateRoutes(app: FastifyInstance, parts: RouteParts): void {
  const { gate, bench, stopToken, build, callers } = parts;
  app.get('/api/greeting', (request): Greeting => {
    const visitor = gate.visitorOf(request.raw);
    const right = gate.rightOf(visitor);
    return {
      build,
      stopToken,
      isHost: visitor.isHere,
      isLan: callers.isLan,
      ...(right === undefined ? {} : { right }),
      ...(visitor.device === undefined ? {} : { device: visitor.device.name }),
    };
  });
  app.post('/api/stop', async (request, reply) => {
    const asked = checked(stopBody, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    if (!isSame(asked.token, stopToken)) return answerWith(reply, refuse('STOP_TOKEN'));
    const { outcome, boxes } = await bench.stopEach(signatureOf(gate.visitorOf(request.raw)));
    return answerWith(reply, { outcome, ...(boxes.length > 1 ? { boxes } : {}) });
  });
  pairRoute(app, parts);
  pairingRoutes(app, parts);
  deviceRoutes(app, parts);
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();
const isSame = (one: string, other: string): boolean => timingSafeEqual(digest(one), digest(other));

/** Who signs for a request that has no socket. */
export function signatureOf({ device, isHere, isPage, peer }: Visitor): string {
  if (device !== undefined) return device.name;
  if (!isHere) return `a page at ${peer}`;
  return isPage ? 'page' : 'program';
}

function pairRoute(app: FastifyInstance, { pairing, devices }: RouteParts): void {
  app.post('/api/pair', async (request, reply) => {
    const asked = checked(pairRequest, request.body);
    if ('kind' in asked) return answerWith(reply, asked);
    // Before the code: a name that cannot be had must not use it up.
    if (isOwnSignature(asked.name)) return answerWith(reply, refuse('NAME_TAKEN'));
    const entered = pairing.enter(asked);
    if (entered.kind === 'refused') return answerWith(reply, entered);
    const added = await devices.add(asked.name, entered.right);
    if (added.kind === 'refused') return answerWith(reply, added);
    const start = `${deviceCookie(request.raw.socket.localPort)}=${added.token}`;
    reply.header('set-cookie', `${start}; Max-Age=${COOKIE_SECONDS}; Path=/; HttpOnly; SameSite=Strict`);
    const { device, token } = added;
    // A page has its cookie, which its script cannot read; a program is given the token for its own header.
    const isPage = request.headers.origin !== undefined;
    return answerWith(reply, { device: device.name, right: device.right, ...(isPage ? {} : { token }) });
  });
}

function pairingRoutes(app: FastifyInstance, { pairing, callers }: RouteParts): void {
  const view = (port: number | undefined): PairingView =>
    pairingView(pairing.state, callers.pageAddresses(port ?? 0));
  app.get('/api/pairing', (request) => view(request.raw.socket.localPort));
  app.post('/api/pairing', async (request, reply) => {
    const order = checked(pairingOrder, request.body);
    if (order.kind === 'refused') return answerWith(reply, order);
    if (!callers.isLan) return answerWith(reply, refuse('NOT_ON_LAN'));
    if (order.kind === 'open') pairing.open(order.right);
    else pairing.close();
    return answerWith(reply, view(request.raw.socket.localPort));
  });
}

function pairingView(state: PairingState, addresses: readonly string[]): PairingView {
  if (state.kind === 'closed') return state;
  const { kind, right, code, token, leftMs, pausedMs } = state;
  const places = addresses.map((address) => ({ address, qrSvg: renderSVG(`${address}#/pair/${token}`) }));
  return { kind, right, code, leftMs, pausedMs, places };
}

function deviceRoutes(app: FastifyInstance, { devices }: RouteParts): void {
  app.get('/api/devices', (): DeviceListing => ({ devices: devices.list() }));
  app.post('/api/devices/:id', async (request, reply) => {
    const path = checked(devicePath, request.params);
    const order = checked(deviceOrder, request.body);
    if ('kind' in path) return answerWith(reply, path);
    if (order.kind === 'refused') return answerWith(reply, order);
    const done =
      order.kind === 'remove' ? await devices.revoke(path.id) : await devices.setRight(path.id, order.right);
    return answerWith(reply, done === 'saved' ? { devices: devices.list() } : done);
  });
}
