import { spawn } from 'node:child_process';

/**
 * What `npm test` does: builds the program, then tests it while types, lint and format are checked beside (half of what
 * the page's tests do is to wait). What is written after `npm test --` goes to vitest. Ends with 1 if anything failed.
 */

/** Runs one program; its output is shown as it comes, or kept and given back. */
const run = (command, { isKept = false } = {}) =>
  new Promise((resolve) => {
    const startedMs = performance.now();
    const child = spawn(command[0], command.slice(1), { stdio: isKept ? 'pipe' : 'inherit' });
    const pieces = [];
    child.stdout?.on('data', (piece) => pieces.push(piece));
    child.stderr?.on('data', (piece) => pieces.push(piece));
    child.on('error', (error) =>
      resolve({ code: 1, text: `${command.join(' ')}: ${error.message}\n`, seconds: 0 }),
    );
    child.on('close', (code) =>
      resolve({
        code: code ?? 1,
        text: Buffer.concat(pieces).toString(),
        seconds: Math.round((performance.now() - startedMs) / 1000),
      }),
    );
  });

const npmRun = (script) => ['npm', 'run', '--silent', script];

const built = await run(npmRun('build'));
if (built.code !== 0) process.exit(1);

const checks = Promise.all(
  ['types', 'lint'].map(async (name) => ({ name, ...(await run(npmRun(name), { isKept: true })) })),
);
const vitest = await run(['vitest', 'run', '--config', 'tests/vitest.config.ts', ...process.argv.slice(2)]);
const results = await checks;
for (const { name, code, text, seconds } of results)
  console.log(
    `${name}: ${code === 0 ? 'clean' : 'FAILED'} (${seconds} s beside the tests)${text && `\n${text}`}`,
  );
process.exitCode = [vitest, ...results].every(({ code }) => code === 0) ? 0 : 1;
