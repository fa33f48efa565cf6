import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { createBoxBay, type BoxBay } from '../../host/server/box-bay';
import { notSerial } from '../../host/link';
import { simulatedProgram } from '../support/simulated-program';

simulatedProgram();

const bays: BoxBay[] = [];
const newBay = (): BoxBay => {
  const bay = createBoxBay({ seed: 3, speed: 30 });
  bays.push(bay);
  return bay;
};
afterEach(async () => {
  for (const bay of bays.splice(0)) await bay.close();
});

const simulated = (gauge: string) => ({ kind: 'simulated', gauge }) as const;

/** The simulated boxes that this program has started and that still run, as the system knows them. */
const boxesOfThisProgram = (): string[] =>
  readdirSync('/proc').flatMap((pid) => {
    if (!/^\d+$/.test(pid)) return [];
    try {
      const parent = /^PPid:\s*(\d+)/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1];
      const words = readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0');
      const isBox = Number(parent) === process.pid && words.includes('--watched');
      return isBox ? [words[words.indexOf('--gauge') + 1] ?? ''] : [];
    } catch {
      return [];
    }
  });

describe.runIf(process.platform === 'linux')('two choices of box at once', () => {
  it('are made one after the other: one box runs, the one that was asked for last', async () => {
    const bay = newBay();
    const asked = ['two-coil-fuel', 'moving-coil-pressure', 'two-coil-fuel', 'cross-coil-temperature'];
    const answers = await Promise.all(asked.map((gauge) => bay.choose(simulated(gauge))));
    expect(answers.map((answer) => answer.kind)).toEqual(asked.map(() => 'simulated'));
    expect(bay.choice).toEqual(simulated('cross-coil-temperature'));
    await expect.poll(() => bay.link.state).toBe('live');
    await expect.poll(boxesOfThisProgram).toEqual(['cross-coil-temperature']);
    const gauges = new Set<string>();
    let looks = 0;
    bay.subscribeDash((gauge) => {
      gauges.add(gauge);
      looks += 1;
    });
    await expect.poll(() => looks).toBeGreaterThan(5);
    expect([...gauges]).toEqual(['cross-coil-temperature']);
  });

  it('leave nothing running when the host ends in the middle of them', async () => {
    const bay = newBay();
    const choosing = [bay.choose(simulated('two-coil-fuel')), bay.choose(simulated('moving-coil-pressure'))];
    await bay.close();
    await Promise.all(choosing);
    expect(await bay.choose(simulated('two-coil-fuel'))).toMatchObject({ code: 'HOST_ENDING' });
    await expect.poll(boxesOfThisProgram).toEqual([]);
  });
});

describe('a path that is chosen as the port of a box', () => {
  it('is refused by name when it is no device, and the box before stays', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'needlewright-bay-'));
    const file = join(folder, 'notes.txt');
    writeFileSync(file, 'not a box');
    const bay = newBay();
    for (const path of [file, folder]) {
      const refused = await bay.choose({ kind: 'port', path });
      expect(refused).toMatchObject({ kind: 'refused', code: 'LINK_NOT_SERIAL' });
      expect('message' in refused ? refused.message : '').toContain(`${path} is no serial device`);
    }
    expect(bay.choice).toEqual({ kind: 'none' });
    expect(readFileSync(file, 'utf8')).toBe('not a box');
  });

  it.runIf(existsSync('/sys/dev/char/1:3/subsystem'))(
    'is refused unopened when it is a device of another kind: to open one may start it',
    async () => {
      for (const path of ['/dev/null', '/dev/zero', '/dev/random'])
        expect(await notSerial(path)).toMatchObject({ code: 'LINK_NOT_SERIAL' });
      for (const path of ['/dev/ptmx', '/dev/not-plugged-in']) expect(await notSerial(path)).toBeUndefined();
    },
  );

  it('on Windows is a COM port and nothing else', async () => {
    for (const path of ['COM3', 'com12', '\\\\.\\COM11'])
      expect(await notSerial(path, 'win32')).toBeUndefined();
    for (const path of ['C:\\notes.txt', 'COM3\\x', 'NUL'])
      expect(await notSerial(path, 'win32')).toMatchObject({ code: 'LINK_NOT_SERIAL' });
  });
});
