import { it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { survivesCuts } from '../store/cuts';
import { survivesKills, ways } from '../store/kills';
import { soakSeed } from './seed';

it('loses no acknowledged event for a cut at any of several hundred places', async () => {
  await survivesCuts(400, randomSource(soakSeed()).uniform);
});

const KILLS = 60;

it.each(ways)('loses no acknowledged event for a kill at any moment: %s', async (way) => {
  await survivesKills(way, KILLS, randomSource(soakSeed()).uniform);
});
