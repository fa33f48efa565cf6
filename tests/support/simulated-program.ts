import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The built simulated box. `npm test` builds it first; a single test run may have to be preceded by `npm run build`. */
export function simulatedProgram(name: 'simulated' | 'first-build' = 'simulated'): string {
  const path = fileURLToPath(new URL(`../../.build/box/${name}.js`, import.meta.url));
  if (!existsSync(path)) throw new Error('the simulated box is not built: run "npm run build" first');
  return path;
}
