/**
 * A seed of its own for each run, printed by whoever takes it, so that a run that failed can be repeated:
 * `SOAK_SEED=123 npm run soak`. A counterexample that was found becomes a fixed case of the ordinary tests.
 */
export const soakSeed = (): number => {
  const asked = Number(process.env.SOAK_SEED);
  const seed = Number.isInteger(asked) && asked > 0 ? asked : Math.floor(Math.random() * 0x7fff_ffff) + 1;
  console.log(`soak seed ${seed}`);
  return seed;
};
