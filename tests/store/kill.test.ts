import { expect, it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { survivesKills, ways } from './kills';

it.each(ways)('a kill loses no acknowledged event, and the job opens again: %s', async (way) => {
  const SEED = 11;
  await survivesKills(way, 1, randomSource(SEED).uniform);
  expect.hasAssertions();
});
