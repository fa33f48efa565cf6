import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Where the pictures land that a person looks at; it exists. */
export const screenshotFolder = fileURLToPath(new URL('../../.test-output/screenshots', import.meta.url));
mkdirSync(screenshotFolder, { recursive: true });
