#!/usr/bin/env node
// What npx finds: it looks once and remembers, so this file is there before anything is built.
import { existsSync } from 'node:fs';

const built = new URL('../../.build/cli/main.js', import.meta.url);
if (existsSync(built)) await import(built.href);
else {
  process.stderr.write(
    'needlewright: not built yet. In this folder: npm ci, then npm run build, then this again\n',
  );
  process.exitCode = 1;
}
