import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

/**
 * npx looks once for what a folder's command is and remembers it: a command that is only there after a build stays unknown to
 * whoever types it a moment too early. So the file that it finds belongs to the sources.
 */

const root = fileURLToPath(new URL('../..', import.meta.url));

const commandOf = (file: string): unknown => {
  const text: unknown = JSON.parse(readFileSync(join(root, file), 'utf8'));
  return text;
};

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'before-build-'));
  mkdirSync(join(folder, 'host/cli'), { recursive: true });
  copyFileSync(join(root, 'host/cli/needlewright.mjs'), join(folder, 'host/cli/needlewright.mjs'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const run = (): ReturnType<typeof spawnSync> =>
  spawnSync(process.execPath, [join(folder, 'host/cli/needlewright.mjs'), 'ports', '--json'], {
    encoding: 'utf8',
    timeout: 60_000,
  });

describe('the command of a folder that was not built', () => {
  it('is a file of the sources that may be run', () => {
    expect(commandOf('package.json')).toMatchObject({ bin: { needlewright: 'host/cli/needlewright.mjs' } });
    expect(statSync(join(root, 'host/cli/needlewright.mjs')).mode & 0o111).not.toBe(0);
  });

  it('says what to type, and ends as something that was not done', () => {
    const { status, stderr, stdout } = run();
    expect(status).toBe(1);
    expect(stdout).toBe('');
    expect(stderr).toMatch(/not built yet.*npm ci.*npm run build/);
  });

  it('is the built program once there is one, with its words and its ending', () => {
    mkdirSync(join(folder, '.build/cli'), { recursive: true });
    writeFileSync(
      join(folder, '.build/cli/main.js'),
      "process.stdout.write(process.argv.slice(2).join(' ')); process.exitCode = 3;",
    );
    const { status, stdout } = run();
    expect([status, stdout]).toEqual([3, 'ports --json']);
  });
});
