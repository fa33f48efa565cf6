import { spawn, type ChildProcess } from 'node:child_process';
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Where the server's programs lie: on the path, or where Debian puts them. */
function programs(): string | undefined {
  const debian = '/usr/lib/postgresql';
  const versions = existsSync(debian) ? readdirSync(debian) : [];
  const found = versions
    .sort((one, other) => Number(other) - Number(one))
    .map((each) => join(debian, each, 'bin'));
  return [...found, ...(process.env.PATH ?? '').split(':')].find((folder) =>
    existsSync(join(folder, 'initdb')),
  );
}

export const postgresAt = programs();

/** The server refuses to run for root: it runs for nobody then. */
const NOBODY = 65_534;
const isRoot = process.getuid?.() === 0;
const asWhom = isRoot ? { uid: NOBODY, gid: NOBODY } : {};

const ended = (child: ChildProcess, name: string): Promise<void> =>
  new Promise((resolve, reject) => {
    let told = '';
    child.stderr?.on('data', (data: unknown) => (told += String(data)));
    child.on('error', reject);
    child.on('exit', (code) => (code === 0 ? resolve() : reject(new Error(`${name}: ${told}`))));
  });

export const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const server = createServer();
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
    });
  });

export type PrivateServer = { readonly port: number; readonly stop: () => Promise<void> };

/** A server of its own in a folder of its own, gone with the test. */
export async function privateServer(bin: string): Promise<PrivateServer> {
  const folder = mkdtempSync(join(tmpdir(), 'postgres-'));
  if (isRoot) chownSync(folder, NOBODY, NOBODY);
  const data = join(folder, 'data');
  const options = { ...asWhom, cwd: folder, env: { ...process.env, LC_ALL: 'C' } };
  await ended(
    spawn(join(bin, 'initdb'), ['-D', data, '-U', 'bench', '-A', 'trust', '--no-sync'], options),
    'initdb',
  );
  const port = await freePort();
  const settings = [
    `port=${port}`,
    'listen_addresses=127.0.0.1',
    `unix_socket_directories=${folder}`,
    'fsync=off',
  ];
  const server = spawn(
    join(bin, 'postgres'),
    ['-D', data, ...settings.flatMap((each) => ['-c', each])],
    options,
  );
  const isOver = new Promise<void>((resolve) => server.on('exit', () => resolve()));
  await new Promise<void>((resolve) => {
    server.stderr.on('data', (line: unknown) => {
      if (String(line).includes('ready to accept connections')) resolve();
    });
  });
  return {
    port,
    stop: async () => {
      server.kill('SIGINT');
      await isOver;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** A test that needs a server is skipped where none is installed, but never where everything ought to be. */
export const isServerWanted = process.env.CI === 'true' || postgresAt !== undefined;

/** A database of its own on a server of its own. */
export async function onPrivateServer(work: (url: string) => Promise<void>): Promise<void> {
  if (postgresAt === undefined) throw new Error('PostgreSQL is not installed, and CI=true asks for it');
  const server = await privateServer(postgresAt);
  try {
    await work(`postgres://bench@127.0.0.1:${server.port}/postgres`);
  } finally {
    await server.stop();
  }
}
