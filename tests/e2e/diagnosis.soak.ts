import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { mendAll, partOf } from './diagnosis-story';
import { openWorkshop, startJob, type Workshop } from './workshop';

/** From a complaint to a sound circuit, through the page, in vehicles of a world that the diagnosis does not know. */
describe.skipIf(!hasBrowser())('a vehicle through the whole check', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('has both of two faults found, one after the other', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    const { named, last } = await mendAll(page, ['wire-corroded', 'stabiliser-closed'], 63);
    expect(new Set(named.map(partOf))).toEqual(new Set(['wire', 'stabiliser']));
    expect(last).toBe('sound');
  });
});
