import { describe, expect, it } from 'vitest';
import { knownCallers } from '../../host/server/callers';

const LAN = ['garage', 'garage.local', '192.168.7.20', '[fe80::1]'];

describe('who may call the host', () => {
  it.each(['localhost', 'localhost:8377', '127.0.0.1:8377', '[::1]:8377'])('knows itself as %s', (name) => {
    expect(knownCallers(false, LAN).isKnownHost(name)).toBe(true);
  });

  it.each([
    'evil.example',
    '127.0.0.1.evil.example',
    '192.168.7.20:8377',
    'localhost@evil.example',
    '',
    undefined,
  ])('does not answer to the name %s without --lan', (name) => {
    expect(knownCallers(false, LAN).isKnownHost(name)).toBe(false);
  });

  it('answers to its own network names with --lan, and to no others', () => {
    const callers = knownCallers(true, LAN);
    for (const name of LAN) expect(callers.isKnownHost(`${name}:8377`)).toBe(true);
    expect(callers.isKnownHost('192.168.7.21:8377')).toBe(false);
  });

  it('lets programs in that send no origin, and no page of another site', () => {
    const { isKnownOrigin } = knownCallers(false, LAN);
    expect(isKnownOrigin(undefined)).toBe(true);
    expect(isKnownOrigin('http://127.0.0.1:8377')).toBe(true);
    for (const origin of [
      'null',
      'http://evil.example',
      'file://',
      'http://127.0.0.1:8377/path',
      'http://u@127.0.0.1',
    ])
      expect(isKnownOrigin(origin)).toBe(false);
  });
});
