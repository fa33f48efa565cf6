import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder that is gone when the test is over. */
export const scratchFolder = async (): Promise<string> => {
  const folder = await mkdtemp(join(tmpdir(), 'needlewright-test-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
};

/** Narrows a result to what was hoped for, or fails the test with what was refused. */
export const hopedFor = <Result extends { kind: string }, Kind extends Result['kind']>(
  result: Result,
  kind: Kind,
): Extract<Result, { kind: Kind }> => {
  const isIt = (each: Result): each is Extract<Result, { kind: Kind }> => each.kind === kind;
  if (!isIt(result)) throw new Error(`hoped for ${kind}, got ${JSON.stringify(result)}`);
  return result;
};
