import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { networkOf, seenOhm, topologies } from '../../host/core/network';
import type { SimulatedGauge } from '../../host/job/wire/host-messages';
import { hasBrowser } from './browser';
import {
  awaitQuestion,
  countReadings,
  dragNeedle,
  finishSweep,
  journalOf,
  lookAtDash,
  openStation,
  openWorkshop,
  startJob,
  startSweep,
  typeReading,
  type Workshop,
} from './workshop';

/** What the gauge truly shows at a resistance: the sender it was drawn for, read backwards, between table rows in ln R. */
function trueReading(gauge: SimulatedGauge, resistanceOhm: number): number {
  const rows = [...gauge.originalSender].sort((one, other) => one.ohm - other.ohm);
  const index = Math.min(
    rows.length - 1,
    Math.max(
      1,
      rows.findIndex((row) => row.ohm >= resistanceOhm),
    ),
  );
  const [low, high] = [rows[index - 1]!, rows[index]!];
  const share = Math.log(resistanceOhm / low.ohm) / Math.log(high.ohm / low.ohm);
  return low.value + share * (high.value - low.value);
}

/** What the test needs of the host's answer; the rest may grow. */
const findingsShape = z.object({
  trim: z.object({
    trimmed: z.object({
      recommended: z.number(),
      band: z.object({ from: z.number(), to: z.number() }),
      candidates: z.array(
        z.object({
          topology: z.enum(topologies),
          parts: z.array(z.object({ resistanceOhm: z.number() })),
          worstError: z.number(),
          errorTable: z.array(z.object({ expandedUncertainty: z.number() })),
        }),
      ),
    }),
  }),
});

describe.skipIf(!hasBrowser())('the whole job through the page, on the simulated bench', () => {
  let workshop: Workshop;
  beforeAll(async () => void (workshop = await openWorkshop()));
  afterAll(() => workshop.close());

  it('sweeps, fits, and recommends a network that makes the real gauge tell the truth', async () => {
    const gauge = await workshop.simulated('thermal-temperature');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await startSweep(page);

    expect(await awaitQuestion(page)).toBe(true);
    const first = await lookAtDash(page, gauge);
    const [cold] = gauge.marks;
    await dragNeedle(page, 0.3);
    await page.getByRole('button', { name: /^It reads 8\d\.\d/ }).waitFor();
    await page.getByLabel(/or type it/).fill(`${first.toFixed(1).replace('.', ',')}`);
    await page.getByRole('button', { name: `It reads ${first.toFixed(1)}` }).waitFor();
    await typeReading(page, first);
    expect(first).toBeGreaterThanOrEqual((cold?.reading ?? 0) - 1);

    const given = 1 + (await finishSweep(page, gauge));
    expect(given).toBeGreaterThanOrEqual(13);
    expect(await countReadings(page)).toBe(given);
    await page
      .getByText(/[Cc]urve known to/)
      .first()
      .waitFor();

    await page.getByRole('button', { name: 'On to the sender' }).click();
    await page.getByRole('button', { name: 'Give its points' }).click();
    await page.getByText('A table or a file', { exact: true }).click();
    const table = gauge.replacementSender.map((row) => `${row.value}\t${row.ohm}`).join('\n');
    await page.getByLabel(/one pair a line/).fill(`temperature_C\tresistance_ohm\n${table}`);
    await page.getByRole('button', { name: /Add these 9 points/ }).click();
    await page.getByRole('button', { name: 'On to the trim' }).click();
    await page.getByRole('button', { name: 'Find the network' }).click();
    await page.getByText('Other networks').waitFor({ timeout: 90_000 });

    const text = await page.evaluate(async () => {
      const response = await fetch(`/api/jobs/${location.hash.replace('#/job/', '')}/findings`);
      return response.text();
    });
    const { trimmed } = findingsShape.parse(JSON.parse(text)).trim;
    const best = trimmed.candidates[trimmed.recommended]!;
    const network = networkOf(
      best.topology,
      best.parts.map((part) => part.resistanceOhm),
    );
    const errorWith = (value: number, ohm: number): number => Math.abs(trueReading(gauge, ohm) - value);
    const inBand = gauge.replacementSender.filter(
      (row) => row.value >= trimmed.band.from && row.value <= trimmed.band.to,
    );
    expect(inBand.length).toBeGreaterThan(3);
    const before = Math.max(...inBand.map((row) => errorWith(row.value, row.ohm)));
    const after = Math.max(...inBand.map((row) => errorWith(row.value, seenOhm(network, row.ohm))));
    const uncertainty = Math.max(...best.errorTable.map((row) => row.expandedUncertainty));
    expect(after).toBeLessThan(before / 2);
    expect(after).toBeLessThan(best.worstError + uncertainty + 1);
    // Nobody noted anything as found: only who signs for it goes on.
    await page.getByText('Go on without it').click();
    await page.getByLabel('Why is a resistor fitted all the same?').fill('the vehicle is not here today');
    await page.getByRole('button', { name: 'Sign, and go on' }).click();
    await page.getByRole('button', { name: 'Fit this one' }).click();
    await page.getByText('Build it, measure it, fit it').waitFor();
    expect(workshop.troubles).toEqual([]);
  });

  it('undoes, strikes and restores a reading without losing any of it', async () => {
    const gauge = await workshop.simulated('two-coil-fuel');
    const page = await workshop.openScreen();
    await startJob(page, workshop, gauge.name);
    await startSweep(page);
    expect(await awaitQuestion(page)).toBe(true);
    await typeReading(page, await lookAtDash(page, gauge));
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByText('Paused', { exact: true }).waitFor();
    await page.getByRole('button', { name: /^Strike / }).click();
    await page.getByRole('button', { name: /^Restore / }).click();
    await page.getByRole('button', { name: /^Strike / }).waitFor();
    const kinds = (await journalOf(page)).map((event) => event.kind);
    expect(kinds).toContain('reading-struck');
    expect(kinds).toContain('reading-restored');
    await openStation(page, 'Sweep');
  });
});
