import { execFileSync } from 'node:child_process';
import { mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { someOf } from '../support/deep';
import { hasSocat, startInTerminal } from '../support/pty';
import { postTo, presentScreen, startProgram, urlOf, type RunningProgram } from '../support/running-host';
import { watchedBox, type WatchedBox } from '../support/watched-box';

const SCREEN = 'bench screen';
const Made = z.object({ jobId: z.string() });
const opening = {
  title: 'Marlow Tourer, fuel',
  vehicle: 'Marlow Tourer (1958)',
  place: 'bench',
  simulated: true,
  gauge: {
    quantity: 'fuel',
    mechanism: 'two-coil',
    unit: 'fraction',
    marks: [
      { label: 'E', reading: 0, angleFraction: 0 },
      { label: 'F', reading: 1, angleFraction: 1 },
    ],
  },
};

type Host = RunningProgram & { readonly url: string; readonly jobId: string };

describe.runIf(hasSocat())('a program that ends while the box drives', () => {
  const jobsFolder = mkdtempSync(join(tmpdir(), 'needlewright-ending-'));
  const ends: (() => unknown)[] = [];
  let box: WatchedBox;
  beforeAll(async () => void (box = await watchedBox('two-coil-fuel', 3)));
  afterEach(async () => {
    for (const end of ends.splice(0).reverse()) await end();
  });
  afterAll(async () => {
    await box.unplug();
    rmSync(jobsFolder, { recursive: true, force: true });
  });

  /** A host whose sweep drives the box, with a screen that attends it. */
  const drivingHost = async (planted?: string): Promise<Host & { readonly leave: () => void }> => {
    const argv = ['serve', '--port', box.path, '--listen', '127.0.0.1:0', '--jobs', jobsFolder, '--json'];
    const host = startProgram(argv, planted);
    ends.push(async () => {
      host.child.kill('SIGKILL');
      await host.ended;
    });
    const url = await urlOf(host);
    const { jobId } = Made.parse(await postTo(`${url}/api/jobs`, opening));
    const screen = await presentScreen(url, jobId, SCREEN);
    const start = { kind: 'start-sweep', choice: { mode: 'step-and-read', fromOhm: 300, toOhm: 100 } };
    await expect
      .poll(
        () => {
          screen.say({ kind: 'command', id: 1, command: start });
          return screen.heard();
        },
        { message: host.err() },
      )
      .toMatch(/"kind":"accepted"|SWEEP_RUNNING/);
    await box.untilDriving();
    return { ...host, url, jobId, leave: screen.leave };
  };

  it.each(someOf(['SIGINT', 'SIGTERM', 'SIGHUP', 'SIGQUIT'] as const, 2))(
    'at %s: the output opens, the terminal says that the box confirmed it, and the program ends by itself',
    async (signal) => {
      const host = await drivingHost();
      host.child.kill(signal);
      host.leave();
      expect(await host.ended).toBe(0);
      await box.untilOpenForGood();
      expect(host.err()).toContain('output open: the box confirmed it');
      expect(host.err()).not.toContain('in time');
    },
  );

  it('at a second Ctrl-C right after the first: the output is opened all the same', async () => {
    const host = await drivingHost();
    host.child.kill('SIGINT');
    host.child.kill('SIGINT');
    host.child.kill('SIGTERM');
    await host.ended;
    await box.untilOpenForGood();
    expect(host.err()).toContain('output open: the box confirmed it');
  });

  it.each([
    ['an exception that nobody caught', 'throw new Error("planted");'],
    ['a promise that nobody waited for', 'Promise.reject(new Error("planted"));'],
  ])('at %s: the output opens, the fault is told, and the program ends', async (_, planted) => {
    const host = await drivingHost(planted);
    host.child.kill('SIGUSR2');
    expect(await host.ended).toBe(1);
    await box.untilOpenForGood();
    expect(host.err()).toMatch(/a fault of this program[^]*planted[^]*output open: the box confirmed it/);
  });

  it('with files that cannot be closed any more: the output opens first, and the program ends in spite of them', async () => {
    const hang = 'const hang = () => new Promise(() => undefined);';
    const files = 'open("/dev/null").then((file) => { const made = Object.getPrototypeOf(file);';
    const host = await drivingHost(
      `${hang} ${files} made.close = made.appendFile = made.datasync = made.stat = hang; });`,
    );
    host.child.kill('SIGUSR2');
    // Something is written, and hangs, before the program is told to end.
    const note = { command: { kind: 'add-note', text: 'never written' } };
    postTo(`${host.url}/api/jobs/${host.jobId}/commands`, note).catch(() => undefined);
    host.child.kill('SIGTERM');
    await host.ended;
    await box.untilOpenForGood();
    expect(host.err()).toContain('output open: the box confirmed it');
  });

  it('with a disk that answers no more: the output opens, and the program does not wait for the disk', async () => {
    // A call of the system that never comes back: the opening of a pipe that nobody writes to.
    const dead = join(jobsFolder, 'dead');
    execFileSync('mkfifo', [dead]);
    const host = await drivingHost(`open(${JSON.stringify(dead)}).catch(() => undefined);`);
    ends.push(() => rmSync(dead));
    host.child.kill('SIGUSR2');
    host.child.kill('SIGTERM');
    await host.ended;
    await box.untilOpenForGood();
    expect(host.err()).toContain('output open: the box confirmed it');
  });

  it('at another choice of box: the output of the box before opens', async () => {
    const host = await drivingHost();
    host.leave();
    expect(await postTo(`${host.url}/api/box`, { kind: 'none' })).toEqual({ kind: 'none' });
    await box.untilOpenForGood();
    expect(host.child.exitCode).toBeNull();
  });

  it('at an I/O error of the disk: the output opens, and the screens are told why', async () => {
    const fail =
      'const fail = () => Promise.reject(Object.assign(new Error("EIO: i/o error"), { code: "EIO" }));';
    const files = 'open("/dev/null").then((file) => { const made = Object.getPrototypeOf(file);';
    const host = await drivingHost(`${fail} ${files} made.stat = made.datasync = fail; });`);
    const looker = await presentScreen(host.url, host.jobId, 'a second screen');
    ends.push(looker.leave);
    host.child.kill('SIGUSR2');
    const note = { command: { kind: 'add-note', text: 'not written' } };
    const refused = (): Promise<unknown> => postTo(`${host.url}/api/jobs/${host.jobId}/commands`, note);
    await expect.poll(refused).toMatchObject({ kind: 'refused' });
    await box.untilOpenForGood();
    await expect
      .poll(looker.heard)
      .toContain('the output was opened, since the journal could not be written');
    host.leave();
  });

  it('at a journal that was moved away: the output opens with the next thing that is to be kept', async () => {
    const host = await drivingHost();
    renameSync(join(jobsFolder, host.jobId), join(jobsFolder, 'elsewhere'));
    const note = { command: { kind: 'add-note', text: 'not written' } };
    const refused = await postTo(`${host.url}/api/jobs/${host.jobId}/commands`, note);
    host.leave();
    expect(refused).toMatchObject({ kind: 'refused' });
    await box.untilOpenForGood();
    expect(host.child.exitCode).toBeNull();
  });

  it('when this computer stands still for longer than the box waits: the box opens by itself, and it is told', async () => {
    const host = await drivingHost('Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2600);');
    const looker = await presentScreen(host.url, host.jobId, 'a second screen');
    ends.push(looker.leave);
    host.child.kill('SIGUSR2');
    await box.untilOpenForGood();
    await expect.poll(looker.heard).toContain('this computer stood still for');
    host.leave();
  });
});

describe.runIf(hasSocat())('a command that ends while the box drives', () => {
  const ends: (() => unknown)[] = [];
  afterEach(async () => {
    for (const end of ends.splice(0).reverse()) await end();
  });

  it.each(someOf(['SIGINT', 'SIGHUP', 'SIGQUIT'] as const, 3))(
    'hold at %s opens the output and says so',
    async (signal) => {
      const box = await watchedBox('two-coil-fuel', 5);
      ends.push(() => box.unplug());
      const holding = startProgram(['hold', '--port', box.path, '--kind', 'magnetic']);
      ends.push(() => holding.child.kill('SIGKILL'));
      // Look after look: a question to the box is always on its way when the output is opened before it.
      holding.child.stdin?.write(`y\n200\n${'\n'.repeat(2_000)}`);
      await box.untilDriving();
      await expect.poll(holding.out).toContain('state driving');
      holding.child.kill(signal);
      expect(await holding.ended).toBe(0);
      await box.untilOpenForGood();
      expect(holding.err()).toContain(`output open: the box on ${box.path} confirmed it`);
    },
  );

  const sweepArgv = (port: string): string[] => {
    const folder = mkdtempSync(join(tmpdir(), 'needlewright-ending-'));
    ends.push(() => rmSync(folder, { recursive: true, force: true }));
    const gauge = ['--type', 'fuel', '--mechanism', 'two-coil', '--unit', 'fraction', '--marks', '0,1'];
    const sweep = ['--from-ohm', '300', '--to-ohm', '100', '--settle-s', '1', '--place', 'bench'];
    const job = ['--jobs', folder, '--title', 'Marlow', '--vehicle', 'Marlow'];
    return ['sweep', '--port', port, ...job, ...gauge, ...sweep];
  };

  it.each(someOf(['SIGINT', 'SIGQUIT'] as const, 2))(
    'sweep at %s opens the output and says so, in the middle of a question',
    async (signal) => {
      const box = await watchedBox('two-coil-fuel', 5);
      ends.push(() => box.unplug());
      const sweeping = startProgram(sweepArgv(box.path));
      ends.push(() => sweeping.child.kill('SIGKILL'));
      await box.untilDriving();
      await expect.poll(sweeping.err).toContain('reads? ');
      sweeping.child.kill(signal);
      expect(await sweeping.ended).toBe(0);
      await box.untilOpenForGood();
      expect(sweeping.err()).toContain(`output open: the box on ${box.path} confirmed it`);
    },
  );

  it.each(someOf(['SIGTERM', 'SIGHUP', 'SIGQUIT'] as const, 3))(
    'watch at %s ends by itself, and the box says that its output is open',
    async (signal) => {
      const box = await watchedBox('two-coil-fuel', 5);
      ends.push(() => box.unplug());
      const watching = startProgram(['watch', '--port', box.path]);
      ends.push(() => watching.child.kill('SIGKILL'));
      await expect.poll(watching.out).toContain('<-- heartbeat');
      watching.child.kill(signal);
      expect(await watching.ended).toBe(0);
      expect(watching.err()).toContain(`output open: the box on ${box.path} confirmed it`);
      await box.untilOpenForGood();
    },
  );

  it.each(
    someOf(
      [
        ['SIGINT', 'in a question', '', 'off everything'],
        ['SIGTERM', 'while it measures', 'y\ny\n', '1 of '],
        ['SIGQUIT', 'while it measures', 'y\ny\n', '1 of '],
      ] as const,
      2,
    ),
  )('calibrate at %s %s stores nothing and leaves the output open', async (signal, _, typed, seen) => {
    const box = await watchedBox('two-coil-fuel', 5);
    ends.push(() => box.unplug());
    box.tellWorld({ ignition: false, calPost: 'chain' });
    const calibrating = startProgram(['calibrate', '--port', box.path]);
    ends.push(() => calibrating.child.kill('SIGKILL'));
    calibrating.child.stdin?.write(typed);
    await expect.poll(calibrating.err).toContain(seen);
    calibrating.child.kill(signal);
    expect(await calibrating.ended).toBe(3);
    expect(calibrating.err()).toContain(`output open: the box on ${box.path} confirmed it`);
    expect(calibrating.err()).toMatch(/needlewright: .*([Ss]topped by hand|[Nn]othing was stored)/);
    expect(calibrating.out()).toBe('');
    await box.untilOpenForGood();
  });

  describe.each(['told', 'untold'] as const)('in a window that is closed, the program being %s', (how) => {
    it.each([
      { name: 'sweep', argvFor: sweepArgv, answers: [], seen: 'reads? ', code: '0' },
      {
        name: 'hold',
        argvFor: (port: string) => ['hold', '--port', port, '--kind', 'magnetic'],
        answers: [
          ['[y/n]', 'y\n'],
          ['ohms to', '200\n'],
        ],
        seen: 'ohms to',
        code: '0',
      },
      {
        name: 'calibrate',
        argvFor: (port: string) => ['calibrate', '--port', port],
        answers: [],
        seen: 'off everything',
        code: '3',
      },
    ] as const)(
      '$name ends by itself, with the output open',
      async ({ name, argvFor, answers, seen, code }) => {
        const box = await watchedBox('two-coil-fuel', 5);
        ends.push(() => box.unplug());
        const program = startInTerminal(argvFor(box.path), how);
        ends.push(program.hangUp);
        // What is typed before its question is asked is not taken.
        for (const [question, text] of answers) {
          await expect.poll(program.err).toContain(question);
          program.type(text);
        }
        await expect.poll(program.err).toContain(seen);
        if (name !== 'calibrate') await box.untilDriving();
        program.hangUp();
        expect(await program.ended).toBe(code);
        await box.untilOpenForGood();
        expect(program.err()).not.toMatch(/in time|Assertion/);
        if (how === 'told')
          expect(program.err()).toContain(`output open: the box on ${box.path} confirmed it`);
      },
    );
  });

  it('a program that left the box driving leaves nothing driving for the next one, whatever that does', async () => {
    const box = await watchedBox('two-coil-fuel', 5);
    ends.push(() => box.unplug());
    const holding = startProgram(['hold', '--port', box.path, '--kind', 'magnetic']);
    holding.child.stdin?.write('y\n200\n');
    await box.untilDriving();
    holding.child.kill('SIGKILL');
    const watching = startProgram(['watch', '--port', box.path]);
    ends.push(() => watching.child.kill('SIGKILL'));
    await box.untilOpenForGood();
  });
});
