import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const home = fileURLToPath(new URL('./xsnap/', import.meta.url));

/** The XS engine's worker program, built from source by the package when it is installed. */
export const workerProgram = `${home}node_modules/@agoric/xsnap/xsnap-native/xsnap/build/bin/lin/release/xsnap-worker`;

export type EngineState = { readonly kind: 'ready' } | { readonly kind: 'absent'; readonly why: string };

const has = (program: string): boolean => spawnSync(program, ['--version'], { stdio: 'ignore' }).status === 0;

/**
 * Builds the XS engine once (about half a minute) where there is a C compiler. People who only run the app never
 * download it: it is a package of its own. A missing engine is a reason to skip, except under CI, where it is a failure.
 */
export function engineState(): EngineState {
  if (existsSync(workerProgram)) return { kind: 'ready' };
  return whyNot() ?? { kind: 'absent', why: 'building the engine failed; see the start of the test run' };
}

/** Vitest global set-up: before any worker runs, so that no two of them build at once. */
export function setup(): void {
  if (existsSync(workerProgram) || whyNot()) return;
  console.log('building the XS engine for the firmware tests, once, about half a minute');
  const done = spawnSync('npm', ['ci', '--no-audit', '--no-fund', '--fetch-retries=1'], {
    cwd: home,
    encoding: 'utf8',
    timeout: 600_000,
  });
  if (!existsSync(workerProgram)) console.error((done.stderr ?? '').trim().slice(-2000));
}

function whyNot(): EngineState | undefined {
  if (process.platform !== 'linux') return { kind: 'absent', why: 'the engine is built on Linux only' };
  if (!has('cc') || !has('make')) return { kind: 'absent', why: 'no C compiler and make on this machine' };
  return undefined;
}
