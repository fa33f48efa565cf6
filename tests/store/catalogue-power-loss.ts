import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { Catalogue } from '../../host/store/catalogue';
import { derivedVersion } from '../../host/store/catalogue/worked-out';
import { expectRebuilt, expectWhole, keepingProgram } from './catalogue-kills';
import { Disk, recorded, type DiskEvent, type Fate } from './power-loss';
import { scratchFolder } from './scratch';

const VERSION = derivedVersion('test');

/** What the program had said when the power went. */
type Said = { readonly kept: Set<string>; readonly slips: Set<string>; readonly erased: Set<string> };

function hear({ kept, slips, erased }: Said, text: string): void {
  for (const line of text.trim().split('\n')) {
    const [word = '', name = ''] = line.split(' ');
    if (word === 'slip') slips.add(name);
    else if (word === 'erased') erased.add(name);
    else for (const each of line.split(' ')) kept.add(each);
  }
}

/** Whether a power loss right after this event is looked at. */
type Wanted = (event: DiskEvent, index: number, events: readonly DiskEvent[]) => boolean;

/** Where a program's word is weighed: after each flush, before each, and after each word. */
export const atBoundaries: Wanted = (event, index, events) =>
  [event, events[index + 1]].some((each) => each?.kind === 'flushed') || event.kind === 'said';

/**
 * Records what a program that keeps cards writes, and cuts the power after the wanted events: whatever the disk makes of
 * what was not flushed, the catalogue opens, nothing acknowledged is missing, what was worked out is what it was, and what
 * was erased stays so. Answers how many losses were looked at.
 */
export async function catalogueSurvivesPowerLoss(
  isWanted: Wanted,
  fatesOf: () => readonly Fate[],
): Promise<number> {
  const folder = join(await scratchFolder(), 'shop');
  mkdirSync(folder);
  const events = await recorded([await keepingProgram(), folder, '0', 'life'], folder);
  const whole = await Catalogue.open(folder, 'test');
  const workedOut = new Map(whole.keeper.derived(VERSION).map((each) => [each.hash, each]));
  const afterwards = join(await scratchFolder(), 'afterwards');
  const said: Said = { kept: new Set(), slips: new Set(), erased: new Set() };
  const disk = new Disk();
  let looked = 0;
  for (const [index, event] of events.entries()) {
    disk.apply(event);
    if (event.kind === 'said') hear(said, event.text);
    if (!isWanted(event, index, events)) continue;
    for (const fate of fatesOf()) {
      disk.afterLoss(afterwards, fate);
      await expectAfterLoss(afterwards, { said, workedOut });
      looked += 1;
    }
  }
  expectWhole(whole, said.kept);
  expect([said.kept.size, said.slips.size, said.erased.size].every((size) => size > 0)).toBe(true);
  expectRebuilt(whole);
  whole.close();
  return looked;
}

type Expected = { readonly said: Said; readonly workedOut: ReadonlyMap<string, unknown> };

async function expectAfterLoss(folder: string, { said, workedOut }: Expected): Promise<void> {
  const catalogue = await Catalogue.open(folder, 'test');
  try {
    expectWhole(catalogue, said.kept);
    for (const each of catalogue.keeper.derived(VERSION)) expect(each).toEqual(workedOut.get(each.hash));
    for (const name of said.erased) expect(await catalogue.slips.of(name)).toBeUndefined();
    // The program erases all but the first.
    const [untouched = ''] = said.slips;
    if (untouched !== '') expect(await catalogue.slips.of(untouched)).toBeDefined();
  } finally {
    catalogue.close();
  }
}
