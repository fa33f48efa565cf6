import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';

/** Where the pictures land that a person looks at. */
const screenshotFolder = fileURLToPath(new URL('../../.test-output/screenshots', import.meta.url));

/** Pictures are for eyes: a third of the time of a browser test goes into them, so they are drawn when asked for. */
const arePicturesWanted = process.env['PICTURES'] === 'true';

/** Path of a picture or print under this name, in a folder that exists. */
export function picturePath(fileName: string): string {
  mkdirSync(screenshotFolder, { recursive: true });
  return `${screenshotFolder}/${fileName}`;
}

/**
 * Keeps a picture of the page where `npm run pictures` asks for them; otherwise does nothing. `size`: as the page is at
 * that size, to which it is brought for the picture alone.
 */
export async function keepPicture(
  page: Page,
  name: string,
  options: {
    readonly fullPage?: boolean;
    readonly size?: { readonly width: number; readonly height: number };
  } = {},
): Promise<void> {
  if (!arePicturesWanted) return;
  const { size, ...rest } = options;
  const before = page.viewportSize();
  if (size !== undefined) await page.setViewportSize(size);
  await page.screenshot({ path: picturePath(`${name}.png`), ...rest });
  if (size !== undefined && before !== null) await page.setViewportSize(before);
}
