import { randomSource } from '../numeric/random';
import { trim, type Candidate, type Network, type TrimOptions } from '../network';
import type { SenderResponse } from '../response';
import { unitChange } from '../units';
import { chainModel, NO_DIFFERENCE, type Chain } from './circuit-model';
import { drawnSender, type ReEstimate } from './re-estimate';

/** Another network against the one that is fitted, over all senders that the pairs leave possible; dial units. */
export type ReTrim = {
  readonly kind: 're-trim';
  readonly network: Network;
  /** The same as the search found it, for the sender as it is now believed to be. */
  readonly candidate: Candidate;
  readonly expectedNow: number;
  readonly expectedThen: number;
  /** Chance that it is better at all. */
  readonly chanceBetter: number;
  readonly isWorthIt: boolean;
};

/** Below this nobody solders again: kelvin, or part of the scale of what is no temperature. Common practice, no source. */
const LEAST_KELVIN = 0.75;
const LEAST_PART = 0.01;
/** As sure as that it gets better. Common practice, no source. */
const SURE_ENOUGH = 0.9;
const USUAL_DRAWS = 200;
const USUAL_PLACES = 25;

const leastOf = ({ gauge }: Chain): number => {
  const change = unitChange('degC', gauge.unit);
  return gauge.quantity === 'temperature' && change.kind !== 'refused'
    ? LEAST_KELVIN * change.factor
    : LEAST_PART * (gauge.highestReading - gauge.lowestReading);
};

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, each) => sum + each, 0) / values.length;

/**
 * Whether other resistors are worth fitting by what the pairs say of the sender. Undefined where the search finds none.
 * Source: expected worst error over draws of the posterior (JCGM 101 manner), the same draws for both networks.
 */
export const reTrim = (
  chain: Chain,
  estimate: ReEstimate,
  band: { readonly from: number; readonly to: number },
  {
    options = {},
    draws = USUAL_DRAWS,
    seed = 1,
  }: { options?: TrimOptions; draws?: number; seed?: number } = {},
): ReTrim | undefined => {
  const { gauge } = chain;
  const found = trim(gauge, estimate.sender, { maxParts: 2, ...options, ...band, perTopology: 1 });
  if (found.kind === 'refused') return undefined;
  const candidate = found.candidates[found.recommended];
  if (candidate === undefined) return undefined;
  const network: Network = {
    topology: candidate.topology,
    parts: candidate.parts.map(({ place, resistanceOhm }) => ({ place, resistanceOhm })),
    ...(options.gaugeOhm === undefined ? {} : { gaugeOhm: options.gaugeOhm }),
  };
  const values = Array.from(
    { length: USUAL_PLACES },
    (_, i) => band.from + ((band.to - band.from) * i) / (USUAL_PLACES - 1),
  );
  const worst = (sender: SenderResponse, fitted: Network): number => {
    const model = chainModel({ ...chain, sender, network: fitted });
    return Math.max(...values.map((value) => Math.abs(model.reading(value, NO_DIFFERENCE) - value)));
  };
  const { middleOhm } = chainModel(chain);
  const random = randomSource(seed);
  const both = Array.from({ length: draws }, () => {
    const scores = [random.normal(), random.normal(), random.normal()] as const;
    const sender = drawnSender(estimate, chain, middleOhm, scores);
    return { now: worst(sender, chain.network), then: worst(sender, network) };
  });
  const expectedNow = meanOf(both.map(({ now }) => now));
  const expectedThen = meanOf(both.map(({ then }) => then));
  const chanceBetter = both.filter(({ now, then }) => then < now).length / draws;
  return {
    ...{ kind: 're-trim', network, candidate, expectedNow, expectedThen, chanceBetter },
    isWorthIt: expectedNow - expectedThen >= leastOf(chain) && chanceBetter >= SURE_ENOUGH,
  };
};
