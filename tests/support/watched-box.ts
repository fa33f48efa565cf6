import { execFileSync } from 'node:child_process';
import { appendFileSync, chmodSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { plugCable } from './pty';
import { simulatedProgram } from './simulated-program';

/** A box as a program of its own at the end of a cable, whose contacts are looked at past every host. */
export type WatchedBox = {
  /** The serial port it hangs on. */
  readonly path: string;
  /** Waits until the output is closed. */
  untilDriving(): Promise<void>;
  /** Waits until the output is open, and until it has stayed so for a second of the box's own time. */
  untilOpenForGood(): Promise<void>;
  /** Changes the world around the box: what its clips are on, the ignition. */
  tellWorld(change: object): void;
  /** The line carries nothing any more, though nothing was unplugged; and it does again. */
  freeze(): Promise<void>;
  thaw(): Promise<void>;
  unplug(): Promise<void>;
};

type Look = { readonly ms: number; readonly isClosed: boolean };

const STAYS_OPEN_MS = 1_000;

/** The gauge's own firmware on the simulated board; file descriptor 3 of its program shows what its contacts do. */
export async function watchedBox(gauge: string, seed: number, serial?: number): Promise<WatchedBox> {
  const folder = mkdtempSync(join(tmpdir(), 'needlewright-box-'));
  const looksFile = join(folder, 'looks');
  const world = join(folder, 'world');
  execFileSync('mkfifo', [world]);
  const script = join(folder, 'box');
  const command = `exec "${process.execPath}" "${simulatedProgram()}" --watched --gauge ${gauge} --seed ${seed}${serial === undefined ? '' : ` --serial ${serial}`}`;
  writeFileSync(script, `#!/bin/sh\n${command} 3>"${looksFile}" 4<>"${world}"\n`);
  chmodSync(script, 0o755);
  const cable = await plugCable(script);
  const looks = (): Look[] =>
    readFileSync(looksFile, 'utf8')
      .split('\n')
      .slice(0, -1)
      .map((line) => lookOf(JSON.parse(line)));
  const openFor = (): number => {
    const all = looks();
    const closed = all.filter(({ isClosed }) => isClosed).at(-1);
    return (all.at(-1)?.ms ?? 0) - (closed?.ms ?? 0);
  };
  return {
    path: cable.path,
    async untilDriving() {
      await expect.poll(() => looks().at(-1)?.isClosed, { message: 'the box drives' }).toBe(true);
    },
    async untilOpenForGood() {
      await expect.poll(openFor, { message: 'the box stays open' }).toBeGreaterThan(STAYS_OPEN_MS);
    },
    tellWorld: (change) => appendFileSync(world, `${JSON.stringify(change)}\n`),
    freeze: () => cable.freeze(true),
    thaw: () => cable.freeze(false),
    unplug: () => cable.unplug(),
  };
}

/** A look has the ohms between the clips, and none while the output is open. */
function lookOf(parsed: unknown): Look {
  if (typeof parsed !== 'object' || parsed === null || !('ms' in parsed) || !('senderOhm' in parsed))
    throw new Error('not a look');
  return { ms: Number(parsed.ms), isClosed: typeof parsed.senderOhm === 'number' };
}
