import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { readArguments } from './arguments';
import type { RunOptions } from './arguments';
import { readBootRom, readImage, readInterpreterEntry } from './image';
import { loadEmulator } from './rp2040';
import { runScenario } from './scenarios';

/** Runs an image on the emulated chip and prints what was measured. Exit code 1 when a figure is out of its limit. */
async function main(options: RunOptions): Promise<boolean> {
  const parts = {
    emulator: await loadEmulator(options.emulator),
    bootRom: readBootRom(options.bootRom),
    image: readImage(options.image),
    missClocks: options.missClocks,
    ...(options.map === undefined ? {} : { interpreterEntry: readInterpreterEntry(options.map) }),
  };
  const { storage } = options;
  const kept =
    storage !== undefined && existsSync(storage) ? new Uint8Array(readFileSync(storage)) : undefined;
  const session = {
    parts,
    options,
    storage: kept,
    print: (line: string) => process.stdout.write(`${line}\n`),
    keep: (bytes: Uint8Array) => {
      if (storage !== undefined) writeFileSync(storage, bytes);
    },
  };
  let isGood = true;
  for (const name of options.scenarios) isGood = runScenario(session, name) && isGood;
  return isGood;
}

try {
  process.exitCode = (await main(readArguments(process.argv.slice(2)))) ? 0 : 1;
} catch (problem) {
  process.stderr.write(`${problem instanceof Error ? problem.message : String(problem)}\n`);
  process.exitCode = 2;
}
