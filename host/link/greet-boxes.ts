import { openLink } from './open-link';
import { serialSource } from './serial-source';
import type { ByteSource } from './types';

/** What answered at a port: a box with its number, or why none. */
export type GreetedPort = {
  readonly path: string;
  readonly boxSerial?: number;
  readonly trouble?: string;
};

/**
 * Greets whatever hangs on these ports, all at once, and lets go again. Only what may be a box is to be asked: another
 * device hears bytes that it does not know.
 */
export const greetBoxes = (
  paths: readonly string[],
  open: (path: string) => ByteSource = serialSource,
): Promise<readonly GreetedPort[]> => Promise.all(paths.map((path) => greetOne(path, open(path))));

async function greetOne(path: string, source: ByteSource): Promise<GreetedPort> {
  const link = openLink(source);
  await new Promise<void>((resolve) => {
    const isSettled = (): boolean => link.state !== 'opening' && link.state !== 'greeting';
    if (isSettled()) return resolve();
    link.subscribe(() => (isSettled() ? resolve() : undefined));
  });
  const { greeting, problem } = link;
  await link.close();
  if (greeting !== undefined) return { path, boxSerial: greeting.boxSerial };
  return { path, trouble: problem?.message ?? 'nothing answered' };
}
