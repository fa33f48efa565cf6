import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser } from './browser';
import { mendAll, partOf, stateOf, walkCheck, worldOf } from './diagnosis-story';
import { keepPicture } from './screenshots';
import { openWorkshop, startJob, type Workshop } from './workshop';

describe.skipIf(!hasBrowser())('the check, by its most telling tests', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('finds a corroded sender wire, has it mended, and finds the circuit sound', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    const world = worldOf((await stateOf(page)).gauge, ['wire-corroded'], 41);
    const first = await walkCheck(page, world);
    expect(first[0]).toBe('as-found');
    await page.getByText(/^It is the sender wire: corroded/).waitFor();
    await keepPicture(page, 'diagnosis-end', { fullPage: true });
    const text = await page.locator('#station-check').innerText();
    expect(text).not.toMatch(/\d ?% (sure|likely)|probab/);
    await page.getByRole('button', { name: 'Save the finding' }).click();
    const mended = page.getByRole('button', {
      name: 'It is mended: check again',
    });
    await mended.waitFor();
    expect((await stateOf(page)).conclusion).toMatchObject({
      ...{
        finding: 'wire-fault',
        diagnosed: { verdict: 'is', causes: ['wire-corroded'] },
      },
    });
    world.mend([]);
    await mended.click();
    const second = await walkCheck(page, world);
    expect(second).toContain('as-found');
    expect(second).toContain('both-ways');
    await page.getByText('The circuit is sound: every proving test was good.').waitFor();
    await page.getByRole('button', { name: 'Save the finding' }).click();
    await expect
      .poll(async () => (await stateOf(page)).conclusion?.finding, { timeout: 60_000 })
      .toBe('sound');
  }, 240_000);

  it('finds a sender\u2019s bad ground, opens no Trim over it, and is done when it is clean', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'thermal-temperature');
    const { named, wasTrimShut } = await mendAll(page, ['sender-seal'], 52);
    expect(named.map(partOf)).toEqual(['sender-ground']);
    expect(wasTrimShut).toEqual([true]);
  }, 300_000);

  // The second vehicle of seed 1336469548, where the station once closed over the plate to check again.
  it('has a gauge with an open coil mended, and checks it again', async () => {
    const page = await workshop.openScreen();
    await startJob(page, workshop, 'two-coil-fuel');
    const { named } = await mendAll(page, ['gauge-open'], 462_440);
    expect(named.map(partOf)).toContain('gauge');
  }, 300_000);
});
