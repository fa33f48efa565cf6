import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';
import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import { right, type DeviceListing, type Right } from '../job/wire/host-messages';
import { deviceName } from '../job/wire/job-messages';
import { sameName } from './same-name';

const TOKEN_DAYS = 30;
const DAY_MS = 86_400_000;
const SECRET_BYTES = 32;
const ID_BYTES = 8;
/** Only the person who runs the host reads or writes the file. */
const OWNER_ONLY = 0o600;
const MOST_DEVICES = 50;

const keptDevice = z.strictObject({
  id: z.string().regex(/^[0-9a-f]{16}$/),
  name: deviceName,
  right,
  /** SHA-256 of the secret, in hexadecimal: the file alone opens nothing. */
  secretHash: z.string().regex(/^[0-9a-f]{64}$/),
  pairedAt: z.iso.datetime(),
  expiresAt: z.iso.datetime(),
});
export type Device = z.infer<typeof keptDevice>;
const deviceFile = z.strictObject({
  schema: z.literal('needlewright/devices/1'),
  devices: z.array(keptDevice),
});

const hashOf = (secret: string): Buffer => createHash('sha256').update(secret).digest();

/** Paired devices: what each may do, until when. Kept in one file; left out, in memory only. */
export class Devices {
  readonly #file: string | undefined;
  readonly #now: () => Date;
  readonly #devices = new Map<string, Device>();
  readonly #changed = new Set<(id: string) => void>();
  #writing: Promise<unknown> = Promise.resolve();

  constructor(file: string | undefined, now: () => Date = () => new Date()) {
    this.#file = file;
    this.#now = now;
  }

  /** Reads what earlier runs kept. Refuses DEVICES_FILE when the file cannot be understood; then nobody is paired. */
  async load(): Promise<'loaded' | Refused> {
    if (this.#file === undefined) return 'loaded';
    try {
      const { devices } = deviceFile.parse(JSON.parse(await readFile(this.#file, 'utf8')));
      for (const device of devices) this.#devices.set(device.id, device);
      return 'loaded';
    } catch (error) {
      if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return 'loaded';
      return refuse('DEVICES_FILE', { file: this.#file });
    }
  }

  /** The device a token belongs to, unless it has expired. The secret is compared in constant time. */
  find(token: string): Device | undefined {
    const [id = '', secret = ''] = token.split('.');
    const device = this.byId(id);
    if (device === undefined) return undefined;
    return timingSafeEqual(hashOf(secret), Buffer.from(device.secretHash, 'hex')) ? device : undefined;
  }

  /** A device as it is now: undefined once it was revoked or has expired. */
  byId(id: string): Device | undefined {
    const device = this.#devices.get(id);
    return device !== undefined && Date.parse(device.expiresAt) > this.#now().getTime() ? device : undefined;
  }

  list(): DeviceListing['devices'] {
    return [...this.#devices.values()].flatMap(({ id, name, right: may, pairedAt, expiresAt }) =>
      this.byId(id) === undefined ? [] : [{ id, name, right: may, pairedAt, expiresAt }],
    );
  }

  isNamed(name: string): boolean {
    return this.list().some((device) => sameName(device.name, name));
  }

  /** Adds a device; the token is given out this once. Refuses DEVICES_FULL, DEVICES_FILE. */
  async add(wanted: string, may: Right): Promise<{ kind: 'added'; device: Device; token: string } | Refused> {
    if (this.list().length >= MOST_DEVICES) return refuse('DEVICES_FULL', { most: MOST_DEVICES });
    const secret = randomBytes(SECRET_BYTES).toString('base64url');
    const device: Device = {
      id: randomBytes(ID_BYTES).toString('hex'),
      name: this.#freeName(wanted),
      right: may,
      secretHash: hashOf(secret).toString('hex'),
      pairedAt: this.#now().toISOString(),
      expiresAt: new Date(this.#now().getTime() + TOKEN_DAYS * DAY_MS).toISOString(),
    };
    this.#devices.set(device.id, device);
    const saved = await this.#save();
    if (saved !== 'saved') {
      this.#devices.delete(device.id);
      return saved;
    }
    this.#tell(device.id);
    return { kind: 'added', device, token: `${device.id}.${secret}` };
  }

  /** Counts at once, whatever the disk says; a refusal tells that the next run will not know of it. */
  async setRight(id: string, may: Right): Promise<'saved' | Refused> {
    const device = this.byId(id);
    if (device === undefined) return noSuchDevice;
    this.#devices.set(id, { ...device, right: may });
    this.#tell(id);
    return this.#save();
  }

  /** As `setRight`: the device is out at once. */
  async revoke(id: string): Promise<'saved' | Refused> {
    if (!this.#devices.delete(id)) return noSuchDevice;
    this.#tell(id);
    return this.#save();
  }

  /** Called after a device was let in, its right has changed, or it was revoked. */
  subscribe(listener: (id: string) => void): () => void {
    this.#changed.add(listener);
    return () => this.#changed.delete(listener);
  }

  #tell(id: string): void {
    for (const listener of [...this.#changed]) listener(id);
  }

  #freeName(wanted: string): string {
    for (let count = 2, name = wanted; ; count += 1) {
      if (!this.isNamed(name)) return name;
      name = `${wanted} (${count})`;
    }
  }

  #save(): Promise<'saved' | Refused> {
    const saved = this.#writing.then(() => this.#write());
    this.#writing = saved;
    return saved;
  }

  async #write(): Promise<'saved' | Refused> {
    const file = this.#file;
    if (file === undefined) return 'saved';
    const devices = [...this.#devices.values()].filter(({ id }) => this.byId(id) !== undefined);
    const text = JSON.stringify({ schema: 'needlewright/devices/1', devices }, undefined, 1);
    try {
      await mkdir(dirname(file), { recursive: true });
      await writeFile(`${file}.new`, `${text}\n`, { mode: OWNER_ONLY, flush: true });
      await rename(`${file}.new`, file);
      return 'saved';
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return refuse('DEVICES_FILE', { file, why });
    }
  }
}

const noSuchDevice = refuse('NO_SUCH_DEVICE');
