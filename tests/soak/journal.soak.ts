import { it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { survivesCuts } from '../store/cuts';
import { soakSeed } from './seed';

it('loses no acknowledged event for a cut at any of several hundred places', async () => {
  await survivesCuts(400, randomSource(soakSeed()).uniform);
});
