import { describe, expect, it } from 'vitest';
import { knownCallers, type Call, type Callers } from '../../host/server/callers';

const LAN = { names: ['garage', 'garage.local'], addresses: ['192.168.7.20', '[fe80::1]'] };
const call = (part: Partial<Call>): Call => ({
  method: 'GET',
  path: '/api/jobs',
  host: '127.0.0.1:8377',
  origin: undefined,
  fetchSite: undefined,
  fetchMode: undefined,
  contentType: undefined,
  port: 8377,
  peer: '127.0.0.1',
  ...part,
});
const callersOn = (isLan: boolean): Callers => knownCallers(isLan, () => LAN);
const place = (callers: Callers, part: Partial<Call>): string => {
  const judged = callers.judge(call(part));
  return judged.kind === 'caller' ? judged.place : judged.code;
};
const REFUSED = 'UNKNOWN_CALLER';

describe('the name and port a host is called by', () => {
  it.each(['localhost:8377', '127.0.0.1:8377', '[::1]:8377'])('is its own as %s', (host) => {
    expect(place(callersOn(false), { host })).toBe('here');
  });

  it.each([
    ['a page whose name was made to point here (DNS rebinding)', 'evil.example:8377'],
    ['a name that begins like its own', '127.0.0.1.evil.example:8377'],
    ['another port', '127.0.0.1:3000'],
    ['the usual port of the web', '127.0.0.1'],
    ['a person before the name', 'localhost@evil.example:8377'],
    ['a path', '127.0.0.1:8377/x'],
    ['its network address without --lan', '192.168.7.20:8377'],
    ['nothing', ''],
    ['nothing at all', undefined],
  ])('is not %s', (_what, host) => {
    expect(place(callersOn(false), { host })).toBe(REFUSED);
  });

  it('is any of its network names with --lan, which need pairing even from this machine', () => {
    const callers = callersOn(true);
    for (const name of [...LAN.names, ...LAN.addresses]) {
      expect(place(callers, { host: `${name}:8377` })).toBe('network');
      expect(place(callers, { host: `${name}:8377`, peer: '192.168.7.31' })).toBe('network');
    }
    expect(place(callers, { host: '192.168.7.21:8377' })).toBe(REFUSED);
    expect(place(callers, { host: 'localhost:8377', peer: '192.168.7.31' })).toBe('network');
  });

  it('follows a new address within seconds', () => {
    let nowMs = 0;
    const addresses = ['192.168.7.20'];
    const callers = knownCallers(
      true,
      () => ({ names: [], addresses }),
      () => nowMs,
    );
    expect(place(callers, { host: '10.42.0.1:8377' })).toBe(REFUSED);
    addresses[0] = '10.42.0.1';
    nowMs = 4_000;
    expect(place(callers, { host: '10.42.0.1:8377' })).toBe('network');
    expect(place(callers, { host: '192.168.7.20:8377' })).toBe(REFUSED);
    expect(callers.pageAddresses(8377)).toEqual(['http://10.42.0.1:8377/']);
  });
});

describe('the page a request comes from', () => {
  const change = { method: 'POST', contentType: 'application/json' };

  it('is its own, with its own port and name', () => {
    const callers = callersOn(true);
    expect(place(callers, { ...change, origin: 'http://127.0.0.1:8377' })).toBe('here');
    expect(place(callers, { host: '192.168.7.20:8377', origin: 'http://192.168.7.20:8377' })).toBe('network');
  });

  it.each([
    'http://127.0.0.1:3000',
    'http://127.0.0.1',
    'http://localhost:8377',
    'https://127.0.0.1:8377',
    'http://evil.example',
    'http://u@127.0.0.1:8377',
    'http://127.0.0.1:8377/path',
    'file://',
    'null',
  ])('is not %s', (origin) => {
    for (const part of [change, {}]) expect(place(callersOn(true), { ...part, origin })).toBe(REFUSED);
  });

  it('is told by Sec-Fetch-Site where no origin is sent: an image, a form, a script of another port', () => {
    const callers = callersOn(false);
    for (const fetchSite of ['cross-site', 'same-site', 'something new']) {
      expect(place(callers, { fetchSite, fetchMode: 'no-cors' })).toBe(REFUSED);
      expect(place(callers, { fetchSite, fetchMode: 'navigate' })).toBe(REFUSED);
      expect(place(callers, { ...change, fetchSite, fetchMode: 'navigate', path: '/' })).toBe(REFUSED);
      expect(place(callers, { fetchSite, fetchMode: 'navigate', path: '/' })).toBe('here');
    }
    expect(place(callers, { ...change, fetchSite: 'same-origin' })).toBe('here');
    expect(place(callers, { fetchSite: 'none' })).toBe('here');
    expect(place(callers, { ...change, fetchSite: 'none' })).toBe(REFUSED);
  });

  it('is none for a program: it may read, and change with JSON, which no form can send', () => {
    const callers = callersOn(false);
    expect(place(callers, change)).toBe('here');
    for (const contentType of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data',
      undefined,
    ])
      expect(place(callers, { method: 'POST', contentType })).toBe(REFUSED);
  });
});
