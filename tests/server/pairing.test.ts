import { readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Devices } from '../../host/server/devices';
import { Pairing, type OpenPairing } from '../../host/server/pairing';
import { isOwnSignature, ScreenNames } from '../../host/server/screen-names';
import { scratchFolder } from '../store/scratch';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

type Lent = { nowMs: number };

const pairingAt = (clock: Lent): Pairing => new Pairing(() => clock.nowMs);
const opened = (pairing: Pairing): OpenPairing => {
  const { state } = pairing;
  if (state.kind === 'closed') throw new Error('pairing is closed');
  return state;
};
/** A code that is certainly another. */
const otherThan = (code: string): string => String((Number(code) + 1) % 1_000_000).padStart(6, '0');
const enteredWith = (pairing: Pairing, key: { code: string } | { token: string }): string => {
  const entered = pairing.enter(key);
  return entered.kind === 'refused' ? entered.code : entered.right;
};

describe('pairing', () => {
  it('lets nobody in before a person opens it, and for five minutes then', () => {
    const clock = { nowMs: 0 };
    const pairing = pairingAt(clock);
    expect(enteredWith(pairing, { code: '000000' })).toBe('PAIRING_CLOSED');
    pairing.open('operate');
    const { code } = opened(pairing);
    expect(code).toMatch(/^\d{6}$/);
    clock.nowMs = 5 * MINUTE_MS;
    expect(enteredWith(pairing, { code })).toBe('PAIRING_CLOSED');
  });

  it('lets one device in for a code, by the digits or by the square, with the right chosen for it', () => {
    const pairing = pairingAt({ nowMs: 0 });
    for (const key of ['code', 'token'] as const) {
      pairing.open('watch');
      const { code, token } = opened(pairing);
      expect(enteredWith(pairing, key === 'code' ? { code } : { token })).toBe('watch');
      expect(enteredWith(pairing, { code })).toBe('PAIRING_CLOSED');
      expect(enteredWith(pairing, { token })).toBe('PAIRING_CLOSED');
    }
  });

  it('draws a new code and rests a minute after ten wrong ones of all devices together', () => {
    const clock = { nowMs: 0 };
    const pairing = pairingAt(clock);
    pairing.open('operate');
    const first = opened(pairing);
    for (let tries = 0; tries < 9; tries += 1)
      expect(enteredWith(pairing, { code: otherThan(first.code) })).toBe('CODE_WRONG');
    expect(opened(pairing).token).toBe(first.token);
    expect(enteredWith(pairing, { token: 'wrong' })).toBe('CODE_WRONG');
    const second = opened(pairing);
    expect(second.token).not.toBe(first.token);
    expect(second.pausedMs).toBe(MINUTE_MS);
    expect(enteredWith(pairing, { code: second.code })).toBe('PAIRING_PAUSED');
    clock.nowMs = MINUTE_MS;
    expect(enteredWith(pairing, { token: first.token })).toBe('CODE_WRONG');
    expect(enteredWith(pairing, { code: second.code })).toBe('operate');
  });

  it('rests its minute even when it is opened anew meanwhile', () => {
    const clock = { nowMs: 0 };
    const pairing = pairingAt(clock);
    pairing.open('operate');
    for (let tries = 0; tries < 10; tries += 1) pairing.enter({ token: 'wrong' });
    pairing.open('operate');
    expect(enteredWith(pairing, { code: opened(pairing).code })).toBe('PAIRING_PAUSED');
  });
});

const added = async (devices: Devices, name: string, right: 'watch' | 'operate' = 'operate') => {
  const result = await devices.add(name, right);
  if (result.kind === 'refused') throw new Error(result.message);
  return result;
};

describe('paired devices', () => {
  it('are known by their token after a restart, though the file holds none', async () => {
    const file = join(await scratchFolder(), 'jobs', '.devices.json');
    const { token, device } = await added(new Devices(file), 'phone');
    const secret = token.split('.')[1] ?? '';
    expect(secret.length).toBeGreaterThan(40);
    expect(await readFile(file, 'utf8')).not.toContain(secret);
    expect((await stat(file)).mode & 0o077).toBe(0);
    const again = new Devices(file);
    expect(await again.load()).toBe('loaded');
    expect(again.find(token)).toMatchObject({ id: device.id, name: 'phone', right: 'operate' });
    expect(again.find(`${device.id}.${'x'.repeat(43)}`)).toBeUndefined();
    expect(again.find(`${device.id}.`)).toBeUndefined();
    expect(again.find('')).toBeUndefined();
  });

  it('expire after thirty days', async () => {
    let now = Date.parse('2026-03-01T12:00:00Z');
    const devices = new Devices(undefined, () => new Date(now));
    const { token } = await added(devices, 'phone');
    now += 30 * DAY_MS - 1;
    expect(devices.find(token)).toBeDefined();
    now += 1;
    expect(devices.find(token)).toBeUndefined();
    expect(devices.list()).toEqual([]);
  });

  it('are out at once when they are removed, also after a restart', async () => {
    const file = join(await scratchFolder(), '.devices.json');
    const devices = new Devices(file);
    const { token, device } = await added(devices, 'phone');
    expect(await devices.revoke(device.id)).toBe('saved');
    expect(devices.find(token)).toBeUndefined();
    expect(await devices.revoke(device.id)).toMatchObject({ code: 'NO_SUCH_DEVICE' });
    const again = new Devices(file);
    await again.load();
    expect(again.find(token)).toBeUndefined();
  });

  it('are none when their file is not whole, and that is said', async () => {
    const file = join(await scratchFolder(), '.devices.json');
    await writeFile(file, '{"schema":"needlewright/devices/1","devices":[{"id":"x"}]}');
    const devices = new Devices(file);
    expect(await devices.load()).toMatchObject({ kind: 'refused', code: 'DEVICES_FILE' });
    expect(devices.list()).toEqual([]);
  });

  it('are not let in when that cannot be kept', async () => {
    const file = join(await scratchFolder(), 'taken');
    await writeFile(file, 'a file where a folder should be');
    const devices = new Devices(join(file, '.devices.json'));
    expect(await devices.add('phone', 'operate')).toMatchObject({ code: 'DEVICES_FILE' });
    expect(devices.list()).toEqual([]);
  });

  it('have names of their own, and none of the program', async () => {
    const devices = new Devices(undefined);
    for (const name of ['bench', ' BENCH ', '\uff42ench', 'page', 'program', 'terminal'])
      expect(isOwnSignature(name)).toBe(true);
    expect((await added(devices, 'phone')).device.name).toBe('phone');
    expect((await added(devices, 'Phone')).device.name).toBe('Phone (2)');
  });
});

describe('the name a screen signs with', () => {
  it('stays its own over a reload, and is nobody else’s', () => {
    const names = new ScreenNames(new Devices(undefined));
    const ask = (wanted: string, key: string): string => names.nameFor({ device: undefined, wanted, key });
    expect(ask('laptop 7', 'a')).toBe('laptop 7');
    expect(ask('laptop 7', 'b')).toBe('laptop 7 (2)');
    expect(ask('laptop 7', 'a')).toBe('laptop 7');
    expect(ask('Laptop 7', 'c')).toBe('Laptop 7 (3)');
  });

  it('is not the program’s, nor that of a paired device', async () => {
    const devices = new Devices(undefined);
    const { device } = await added(devices, 'Ann’s phone');
    const names = new ScreenNames(devices);
    const here = (wanted: string): string => names.nameFor({ device: undefined, wanted, key: wanted });
    expect(here('bench')).toBe('screen');
    expect(here('ann’s phone')).toBe('screen (2)');
    expect(here('ann’s phone (2)')).toBe('screen (3)');
    expect(names.nameFor({ device, wanted: 'bench', key: 'k' })).toBe('Ann’s phone');
    expect(names.nameFor({ device, wanted: 'bench', key: 'other tab' })).toBe('Ann’s phone (2)');
  });
});
