import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { hasBrowser } from '../e2e/browser';
import { openFakeHost } from '../e2e/fake-host';
import { sampleGauge } from '../e2e/sample-job';
import { awaitQuestion, openWorkshop, startJob, startSweep, type Workshop } from '../e2e/workshop';
import { addRow } from './table';
import { firstScriptBytes } from '../support/first-script';

const built = (name: string): string => fileURLToPath(new URL(`../../.build/web/${name}`, import.meta.url));
const kilobytes = (name: string): string =>
  `${(gzipSync(readFileSync(built(name))).length / 1000).toFixed(1)} KB`;

/** A mid-range phone, roughly: this machine slowed down. */
const SLOWDOWN = 4;

const slowed = async (page: Page): Promise<CDPSession> => {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWDOWN });
  return session;
};

/** First paint of something that is not the waiting line, in ms after the navigation began. */
async function usefulPaintMs(page: Page, url: string): Promise<number> {
  await page.goto(url);
  await page.locator('h1').waitFor();
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now())));
      }),
  );
}

/** Frame times, in ms, while `act` goes on. */
async function framesDuring(page: Page, act: () => Promise<void>): Promise<readonly number[]> {
  await page.evaluate(() => {
    const times: number[] = [];
    Object.assign(window, { frameTimes: times });
    const tick = (now: number): void => {
      times.push(now);
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  });
  await act();
  const text = await page.evaluate(() => JSON.stringify('frameTimes' in window ? window.frameTimes : []));
  const times: unknown = JSON.parse(text);
  const numbers = Array.isArray(times)
    ? times.filter((time): time is number => typeof time === 'number')
    : [];
  return numbers.slice(1).map((time, index) => time - numbers[index]!);
}

/** Frame times while the needle is dragged to and fro, at the rate a finger reports. */
async function dragFrames(page: Page): Promise<readonly number[]> {
  const face = page.locator('.dial-turns .dial-face');
  await face.scrollIntoViewIfNeeded();
  const box = await face.boundingBox();
  if (box === null) throw new Error('no dial');
  return framesDuring(page, async () => {
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 3);
    await page.mouse.down();
    const MOVES = 180;
    for (let move = 0; move < MOVES; move += 1) {
      const across = 0.5 + 0.3 * Math.sin((2 * Math.PI * move) / 60);
      await page.mouse.move(box.x + across * box.width, box.y + box.height / 3);
    }
    await page.mouse.up();
  });
}

const share = (values: readonly number[], part: number): number =>
  [...values].sort((one, other) => one - other)[Math.floor(part * (values.length - 1))] ?? 0;

describe.skipIf(!hasBrowser())('the page', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()), 60_000);
  afterAll(() => workshop.close(), 60_000);

  it('weighs', () => {
    const first = `${(firstScriptBytes() / 1000).toFixed(1)} KB`;
    addRow({
      part: 'page',
      what: 'script before the first view, gzipped',
      measured: first,
      goal: '<= 90 KB',
    });
    addRow({ part: 'page', what: 'style, gzipped', measured: kilobytes('style/sheet.css') });
  });

  it('paints', async () => {
    const page = await workshop.openScreen({ viewport: { width: 360, height: 740 } });
    await slowed(page);
    const address = await startJob(page, workshop, 'two-coil-fuel');
    for (const [what, url] of [
      ['first useful paint, front page, 4x slower CPU', workshop.server.url],
      ['first useful paint, job sheet, 4x slower CPU', address],
    ] as const) {
      const times: number[] = [];
      for (let round = 0; round < 5; round += 1) {
        await page.goto('about:blank');
        times.push(await usefulPaintMs(page, url));
      }
      addRow({ part: 'page', what, measured: `${share(times, 0.5).toFixed(0)} ms`, goal: '< 1000 ms' });
    }
    await page.context().close();
  });

  it('is dragged', async () => {
    const page = await workshop.openScreen({ viewport: { width: 360, height: 740 } });
    await startJob(page, workshop, 'two-coil-fuel');
    await startSweep(page);
    await awaitQuestion(page);
    await slowed(page);
    const frames = await dragFrames(page);
    const dropped = frames.filter((ms) => ms > 25).length;
    addRow({
      part: 'page',
      what: 'dragging the needle, 4x slower CPU, median and 95 % frame',
      measured: `${share(frames, 0.5).toFixed(1)} / ${share(frames, 0.95).toFixed(1)} ms, ${dropped} of ${frames.length} late`,
      goal: '16.7 ms',
    });
    await page.keyboard.press('Escape');
    await page.context().close();
  });

  it('holds a thousand jobs', async () => {
    const host = await openFakeHost();
    const MANY = 1_000;
    for (let number = 1; number <= MANY; number += 1)
      await host.bench.createJob({
        title: 'Coolant temperature gauge',
        vehicle: `Harrow Six saloon, chassis ${number}`,
        gauge: sampleGauge,
        place: 'car',
        simulated: true,
      });
    const page = await (await host.browser.newContext({ viewport: { width: 360, height: 740 } })).newPage();
    await slowed(page);
    await page.goto(host.url);
    await page.locator('.rack li').first().waitFor();
    const openedMs = await page.evaluate(() => performance.now());
    const allMs = await page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const before = performance.now();
          const more = [...document.querySelectorAll('button')].find((each) =>
            each.innerText.endsWith(' more'),
          );
          more?.click();
          requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now() - before)));
        }),
    );
    const frames = await framesDuring(page, async () => {
      await page.mouse.move(180, 400);
      for (let turn = 0; turn < 120; turn += 1) await page.mouse.wheel(0, 300);
    });
    const late = frames.filter((ms) => ms > 25).length;
    addRow({
      part: 'page',
      what: 'front page with 1,000 jobs, 4x slower CPU: shown, all of them shown',
      measured: `${openedMs.toFixed(0)} ms, ${allMs.toFixed(0)} ms`,
      goal: '< 1500 ms',
    });
    addRow({
      part: 'page',
      what: 'scrolling through 1,000 jobs, 4x slower CPU, median and 95 % frame',
      measured: `${share(frames, 0.5).toFixed(1)} / ${share(frames, 0.95).toFixed(1)} ms, ${late} of ${frames.length} late`,
      goal: '16.7 ms',
    });
    await host.close();
  });
});
