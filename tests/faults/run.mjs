import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { faults } from './faults.mjs';

/**
 * `npm run faults [-- WORD ...]`: plants one deliberate one-line fault at a time into a copy of the last commit, runs the
 * tests that ought to see it, and says which faults lived. WORD picks the faults whose file or rule contains it.
 */
const LIMIT_MS = 600_000;
const home = fileURLToPath(new URL('../..', import.meta.url));
const words = process.argv.slice(2);
const chosen = faults.filter(({ file, rule }) => words.every((word) => `${file} ${rule}`.includes(word)));

const copy = join(mkdtempSync(join(tmpdir(), 'needlewright-faults-')), 'house');
const git = (...argv) => execFileSync('git', ['-C', home, ...argv], { stdio: ['ignore', 'pipe', 'pipe'] });
git('worktree', 'add', '--detach', copy, 'HEAD');
for (const folder of ['node_modules', 'tests/engine/xsnap/node_modules'])
  symlinkSync(join(home, folder), join(copy, folder));

const inCopy = (program, argv) =>
  spawnSync(program, argv, { cwd: copy, encoding: 'utf8', timeout: LIMIT_MS });
const build = () => inCopy(process.execPath, ['host/build.mjs']).status === 0;
const vitest = (tests) =>
  inCopy(process.execPath, [
    'node_modules/vitest/vitest.mjs',
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--bail',
    '1',
    ...tests,
  ]);

/** How the tests took the fault: a test that failed saw it; tests that did not run say nothing. */
const fate = ({ file, from, to, tests, isBuilt }) => {
  const path = join(copy, file);
  const sound = readFileSync(path, 'utf8');
  if (sound.split(from).length !== 2) return 'FITS NOWHERE';
  writeFileSync(
    path,
    sound.replace(from, () => to),
  );
  try {
    if (isBuilt && !build()) return 'died (build)';
    const { status, signal, stdout, stderr } = vitest(tests);
    if (signal !== null) return 'died (hung)';
    const said = `${stdout ?? ''}${stderr ?? ''}`.replaceAll(/\u001b\[[0-9;]*m/g, '');
    if (status === 0) return 'LIVED';
    if (/FAIL +\S/.test(said)) return 'died';
    console.log(said.slice(-2_000));
    return 'BROKE (no test failed)';
  } finally {
    writeFileSync(path, sound);
    if (isBuilt) build();
  }
};

try {
  if (!build()) throw new Error('the copy does not build');
  const rows = chosen.map((fault) => {
    const startedMs = performance.now();
    const row = { ...fault, fate: fate(fault), seconds: Math.round((performance.now() - startedMs) / 1000) };
    console.log(`${row.fate.padEnd(12)} ${String(row.seconds).padStart(4)} s  ${row.file}: ${row.rule}`);
    return row;
  });
  const lived = rows.filter((row) => !row.fate.startsWith('died'));
  console.log(`\n${rows.length - lived.length} of ${rows.length} faults died`);
  process.exitCode = lived.length === 0 ? 0 : 1;
} finally {
  git('worktree', 'remove', '--force', copy);
  rmSync(join(copy, '..'), { recursive: true, force: true });
}
