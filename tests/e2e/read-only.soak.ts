import { mkdir, mkdtemp, readFile, rm, rmdir, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startServer, type RunningServer } from '../../host/server';
import { JOURNAL_FILE } from '../../host/store';
import { journalLine } from '../../host/store';
import { stamped } from '../job/sample';
import { journal } from '../store/sample-journal';
import { violations } from './axe';
import { hasBrowser, openBrowser } from './browser';
import { keepPicture } from './screenshots';
import { openStation } from './workshop';

/** The first question of the check whose answer is a press. */
/** Its check asks the fixed list: that needs no box and no computing. */
const journalText = stamped([
  ...journal.map(({ n, at, by, ...body }) => body),
  { kind: 'check-answered', question: 'check-way', answer: 'list' },
])
  .map(journalLine)
  .join('');
const QUESTION = /Are other gauges in this dash wrong/;
const TITLE = 'Harrow Six reads high';

const notice = (page: Page): Locator => page.locator('.note', { hasText: 'Nothing can be entered now' });
/** On a crowded machine an earlier press may open the job under the finger: then there is nothing left to press. */
const openAgain = async (page: Page): Promise<void> => {
  const button = page.getByRole('button', { name: 'Open again' });
  await button.click({ timeout: 10_000 }).catch(async (error: unknown) => {
    if ((await button.count()) > 0) throw error;
  });
};

const answerNo = async (page: Page): Promise<void> => {
  await openStation(page, 'Check');
  const skip = page.getByRole('button', { name: 'Skip', exact: true });
  const asked = page.locator('#station-check .prompt').filter({ hasText: QUESTION });
  await asked.or(skip).first().waitFor();
  if (!(await asked.isVisible())) await skip.click();
  await asked.waitFor();
  await page.getByRole('button', { name: 'No', exact: true }).click();
};

describe.skipIf(!hasBrowser())('a job that can be read and not written', () => {
  let jobsFolder: string;
  let browser: Browser;
  let host: RunningServer;
  const running: RunningServer[] = [];

  const startHost = async (): Promise<RunningServer> => {
    const started = await startServer({ jobsFolder, listenPort: 0 });
    if (started.kind === 'refused') throw new Error(started.message);
    running.push(started);
    return started;
  };
  const journalOf = (name: string): Promise<string> => readFile(join(jobsFolder, name, JOURNAL_FILE), 'utf8');
  const putJob = async (name: string): Promise<void> => {
    await mkdir(join(jobsFolder, name));
    await writeFile(join(jobsFolder, name, JOURNAL_FILE), journalText);
  };
  const look = async (at: RunningServer, name: string): Promise<Page> => {
    const page = await browser.newPage();
    await page.goto(`${at.url}/#/job/${name}`);
    await page.getByRole('heading', { name: TITLE }).waitFor();
    return page;
  };

  beforeAll(async () => {
    jobsFolder = await mkdtemp(join(tmpdir(), 'needlewright-read-only-'));
    browser = await openBrowser();
    host = await startHost();
  });
  afterAll(async () => {
    await browser.close();
    await Promise.all(running.map((each) => each.close()));
    await rm(jobsFolder, { recursive: true, force: true });
  });

  it('is shown with the reason where no lock can be made, refuses an answer, and is written once that is mended', async () => {
    await putJob('locked-out');
    const lock = join(jobsFolder, 'locked-out', 'job.lock');
    // A folder under the lock's name: nobody can make a lock there, whatever his rights.
    await mkdir(lock);
    const page = await look(host, 'locked-out');
    await notice(page).waitFor();
    expect(await notice(page).innerText()).toContain(lock);
    await openStation(page, 'Sweep');
    await expect.poll(() => page.locator('[data-reading]').count()).toBe(2);
    await answerNo(page);
    await page.locator('.foot').getByText(lock).waitFor();
    await keepPicture(page, 'read-only-1280');
    expect(await violations(page)).toEqual([]);
    await openAgain(page);
    await page.locator('.foot').getByText(lock).waitFor({ state: 'hidden' });
    expect(await notice(page).isVisible()).toBe(true);
    expect(await journalOf('locked-out')).toBe(journalText);
    await rmdir(lock);
    await openAgain(page);
    await notice(page).waitFor({ state: 'hidden' });
    await answerNo(page);
    await expect.poll(() => journalOf('locked-out')).toContain('"check-answered"');
  });

  it('beside a writer names the writer, and goes on with what it wrote once it has let go', async () => {
    await putJob('two-hosts');
    const first = await startHost();
    const writing = await look(first, 'two-hosts');
    const reading = await look(host, 'two-hosts');
    await notice(reading).waitFor();
    expect(await notice(reading).innerText()).toContain(`Program ${process.pid}`);
    expect(await notice(writing).count()).toBe(0);
    await answerNo(writing);
    await expect.poll(() => journalOf('two-hosts')).toContain('"check-answered"');
    await first.close();
    await openAgain(reading);
    await notice(reading).waitFor({ state: 'hidden' });
    // What the first host was told is known here, so the question is not asked again.
    await openStation(reading, 'Check');
    await reading.locator('#station-check .prompt').waitFor();
    expect(await reading.locator('#station-check .prompt').filter({ hasText: QUESTION }).count()).toBe(0);
  });
});
