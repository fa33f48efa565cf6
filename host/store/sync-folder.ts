import { open } from 'node:fs/promises';

/** Makes a new or renamed file's name itself last. */
export const syncFolder = async (folder: string): Promise<void> => {
  // Some systems cannot sync a folder (Windows); the file itself is synced anyway.
  const handle = await open(folder, 'r').catch(() => undefined);
  await handle?.sync().catch(() => undefined);
  await handle?.close();
};
