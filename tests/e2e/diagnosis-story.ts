import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import {
  causeRow,
  loadsOf,
  testRow,
  type CauseName,
  type Part,
  type TestName,
} from '../../host/core/diagnosis';
import { isTestName } from '../../host/core/diagnosis/tests';
import { familyOf, type GaugeFamily } from '../../host/core/diagnosis/family';
import { randomSource } from '../../host/core/numeric/random';
import { drawVehicle, measure } from '../../host/core/simulated-vehicle';
import { dialWordsOf } from '../../host/words/dial-words';
import { foldJob, type JobState } from '../../host/job';
import { trimShut } from '../../host/job/proof/chain-gate';
import type { Gauge } from '../../host/job/schema/gauge';
import { journalOf } from './workshop';

/** A vehicle of the world that the diagnosis does not know, with somebody who measures it. */
export type World = {
  readonly gauge: Gauge;
  readonly family: GaugeFamily;
  /** What a test shows now. */
  readonly shows: (test: TestName) => number;
  /** From now on only these are wrong. */
  readonly mend: (left: readonly CauseName[]) => void;
};

const COOL_PLACE = 0.35;
const WARM_PLACE = 0.7;

/** The same vehicle whatever of it is mended: one seed draws it. */
export function worldOf(gauge: Gauge, faults: readonly CauseName[], seed: number): World {
  const { quantity, mechanism: kind, family: ends } = gauge;
  if (quantity === 'other' || kind === 'unknown' || ends === undefined) throw new Error('no such family');
  const family = familyOf({ quantity, kind, ...ends });
  const drawn = (wrong: readonly CauseName[]) => ({
    ...drawVehicle(family, wrong, randomSource(seed)),
    ...{ coolPlace: COOL_PLACE, warmPlace: WARM_PLACE },
  });
  let vehicle = drawn(faults);
  const loads = loadsOf({ family, way: 'box' });
  const observer = {
    random: randomSource(seed + 1),
    hasBox: true,
    wrongDigits: 0,
    loads,
  };
  return {
    ...{ gauge, family },
    shows: (test) => measure(vehicle, test, observer),
    mend: (left) => (vehicle = drawn(left)),
  };
}

/** A cloud is drawn once, which takes seconds on a crowded machine. */
const PATIENT = { timeout: 60_000 };
const STATION = '#station-check .check';

/** Where the check stands: the question on the screen, by its kind, its test and the entry it rests on. */
export const askedNow = async (page: Page): Promise<string> =>
  (await page.locator(STATION).getAttribute('data-asked')) ?? '';

const ASKED_TEST = /^(as-found|test) ?([a-z-]*) /;

/** Answers whatever the check asks by what the world shows, until it has come to something. Returns the tests it took. */
export async function walkCheck(page: Page, world: World): Promise<readonly TestName[]> {
  const taken: TestName[] = [];
  for (;;) {
    await page.locator(`${STATION}:not([data-asked^=waiting])`).waitFor();
    const asked = await askedNow(page);
    if (/^(end|found)/.test(asked)) return taken;
    if (asked.startsWith('way')) {
      await page.getByRole('button', { name: 'The box and a multimeter' }).click();
      await expect.poll(() => askedNow(page), PATIENT).not.toBe(asked);
      continue;
    }
    const [, kind, name = ''] = ASKED_TEST.exec(asked) ?? [];
    const test = kind === 'as-found' ? 'as-found' : name;
    if (!isTestName(test)) throw new Error(`asked ${asked}`);
    await confirmed(page);
    await answer(page, world, test);
    taken.push(test);
    await expect.poll(() => askedNow(page), PATIENT).not.toBe(asked);
  }
}

/** What can hurt is said before the test is shown. */
async function confirmed(page: Page): Promise<void> {
  const yes = page.locator(STATION).getByRole('button', { name: 'Yes', exact: true });
  const hint = page
    .locator(STATION)
    .getByText(/come before anything this page says/)
    .filter({ visible: true });
  while ((await hint.count()) > 0) {
    const prompts = await page.locator(`${STATION} .prompt`).allTextContents();
    // The question may be answered already while it is looked for: the screen of a busy machine comes late.
    const isPressed = await yes
      .first()
      .click({ timeout: 3_000 })
      .then(() => true)
      .catch(() => false);
    if (!isPressed) continue;
    await expect
      .poll(() => page.locator(`${STATION} .prompt`).allTextContents(), PATIENT)
      .not.toEqual(prompts);
  }
}

async function answer(page: Page, world: World, test: TestName): Promise<void> {
  const place = page.locator(STATION);
  const value = world.shows(test);
  switch (testRow(test).measure) {
    case 'place':
      return needle(page, world, { test, value });
    case 'chance':
      return place.getByRole('button', { name: value > 0.5 ? 'Yes' : 'No', exact: true }).click();
    case 'step': {
      const { reading } = dialWordsOf(world.gauge);
      const at = test === 'rest-mark' ? 0.1 : 0.5;
      await place
        .getByLabel(/^By how much/)
        .fill((reading(at + value / 2) - reading(at - value / 2)).toFixed(2));
      return place.getByRole('button', { name: 'Note it' }).click();
    }
    case 'ohm':
      if (value > 1e5) return place.getByRole('button', { name: 'It shows open' }).click();
      await place.getByLabel(/What the meter shows/).fill(value.toPrecision(4));
      return place.getByRole('button', { name: 'Note it' }).click();
    case 'volt':
    case 'millivolt':
      await place.getByLabel(/What the meter shows/).fill(value.toFixed(2));
      return place.getByRole('button', { name: 'Note it' }).click();
  }
}

async function needle(
  page: Page,
  { gauge }: World,
  { test, value }: { readonly test: TestName; readonly value: number },
): Promise<void> {
  const place = page.locator(STATION);
  const { reading } = dialWordsOf(gauge);
  // Read again before it counts, it is the needle alone.
  if ((await askedNow(page)).startsWith('as-found')) {
    await place.locator('.chip').first().click();
    await place.getByLabel(/^True value/).fill(reading(COOL_PLACE).toFixed(1));
    await place.getByLabel(/of the true value/).fill('3');
  }
  if (test === 'as-found-warm') await place.getByLabel(/^True value/).fill(reading(WARM_PLACE).toFixed(1));
  if (value < 0 || value > 1)
    await place.getByRole('button', { name: value < 0 ? 'Low stop' : 'High stop' }).click();
  else await place.getByLabel(/or type it/).fill(reading(value).toFixed(2));
  await place.getByRole('button', { name: /^It (reads|is on)/ }).click();
}

export const partOf = (cause: CauseName): Part => causeRow(cause).part;

export async function stateOf(page: Page): Promise<JobState> {
  const state = foldJob(await journalOf(page));
  if (state === undefined) throw new Error('no journal');
  return state;
}

const MOST_ROUNDS = 4;

/** Checks, mends what is named and checks again, until the circuit is called sound or nothing is found. */
export async function mendAll(
  page: Page,
  faults: readonly CauseName[],
  seed: number,
): Promise<{
  readonly named: readonly CauseName[];
  readonly wasTrimShut: readonly boolean[];
  readonly last: string;
}> {
  const world = worldOf((await stateOf(page)).gauge, faults, seed);
  const named: CauseName[] = [];
  const wasTrimShut: boolean[] = [];
  let last = '';
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    await walkCheck(page, world);
    const before = (await stateOf(page)).conclusion?.n ?? 0;
    await page.getByRole('button', { name: /^Save (the finding|it as not found)/ }).click();
    await expect.poll(async () => (await stateOf(page)).conclusion?.n ?? 0, PATIENT).toBeGreaterThan(before);
    const state = await stateOf(page);
    const causes = state.conclusion?.diagnosed?.causes ?? [];
    last = state.conclusion?.finding ?? '';
    if (last === 'sound' || causes.length === 0) break;
    // Nothing is chosen in Trim while a fault of the circuit stands.
    if (last.endsWith('-fault')) wasTrimShut.push(trimShut(state) === 'finding');
    named.push(...causes);
    world.mend(faults.filter((fault) => !named.some((each) => partOf(each) === partOf(fault))));
    await page.getByRole('button', { name: /^It is mended: check again/ }).click();
    await page.locator('[data-asked^=as-found]').waitFor();
  }
  return { named, wasTrimShut, last };
}
