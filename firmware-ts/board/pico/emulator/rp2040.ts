import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/**
 * What this harness takes of the emulator, as types of our own. The emulator is no dependency of the project: whoever
 * runs the harness installs it in a folder of their own and says where that is.
 */
export type Alarm = { schedule(deltaNanos: number): void; cancel(): void };

export type Clock = {
  readonly nanos: number;
  readonly nanosToNextAlarm: number;
  createAlarm(callback: () => void): Alarm;
  tick(deltaNanos: number): void;
};

/** Registers of one peripheral; an atomic write is 1 exclusive-or, 2 set, 3 clear (RP2040 data sheet 2.1.2). */
export type Peripheral = {
  readUint32(offset: number): number;
  writeUint32(offset: number, value: number): void;
  writeUint32Atomic(offset: number, value: number, atomicType: number): void;
};

export type I2cController = Peripheral & {
  onStart: (isRepeated: boolean) => void;
  onConnect: (address: number, mode: number) => void;
  onWriteByte: (value: number) => void;
  onReadByte: (isAcknowledged: boolean) => void;
  onStop: () => void;
  completeStart(): void;
  completeConnect(isAcknowledged: boolean): void;
  completeWrite(isAcknowledged: boolean): void;
  completeRead(value: number): void;
  completeStop(): void;
  arbitrationLost(): void;
};

export type Uart = Peripheral & {
  readonly flags: number;
  onByte?: (value: number) => void;
  feedByte(value: number): void;
};

export type Pin = {
  readonly value: number;
  addListener(callback: (state: number) => void): () => void;
  setInputValue(isHigh: boolean): void;
};

export type Rp2040 = {
  readonly core: { waiting: boolean; PC: number; readonly SP: number; executeInstruction(): number };
  readonly flash: Uint8Array;
  readonly clkSys: number;
  readonly i2c: readonly I2cController[];
  readonly uart: readonly Uart[];
  readonly adc: { readonly channelValues: number[] };
  readonly gpio: readonly Pin[];
  readonly peripherals: Record<number, Peripheral>;
  logger: Logger;
  loadBootrom(words: Uint32Array): void;
  readUint8(address: number): number;
  readUint16(address: number): number;
  readUint32(address: number): number;
};

export type Logger = Record<'debug' | 'info' | 'warn' | 'error', (part: string, message: string) => void>;

export type EmulatorModule = {
  readonly Simulator: new () => { readonly clock: Clock; readonly rp2040: Rp2040 };
};

const isEmulator = (value: unknown): value is EmulatorModule =>
  typeof value === 'object' &&
  value !== null &&
  'Simulator' in value &&
  typeof value.Simulator === 'function';

/** Where the package keeps its code; the version this was written against is 1.4.1. */
const ENTRY = 'dist/esm/index.js';

/** Loads the emulator from the folder of its package. Throws with what to do when it is not there. */
export async function loadEmulator(folder: string): Promise<EmulatorModule> {
  const file = resolve(join(folder, ENTRY));
  if (!existsSync(file)) {
    throw new Error(
      `There is no emulator in ${folder} (looked for ${ENTRY}). Install the npm package rp2040js in a folder outside ` +
        'this project and pass --emulator FOLDER/node_modules/rp2040js.',
    );
  }
  const loaded: unknown = await import(pathToFileURL(file).href);
  if (isEmulator(loaded)) return loaded;
  throw new Error(`${file} offers no Simulator: is it rp2040js 1.4 or later?`);
}
