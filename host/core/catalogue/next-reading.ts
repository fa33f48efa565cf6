import { meanOf, standing, TAUS, uncertaintyOf, type Bank } from './bank';
import { POSITIONS } from './columns';
import { atTau, sumsOf, type Sight } from './likelihood';
import { unknownAt } from './unknown-model';

/** The reading that would tell most, and what the likeliest models expect of it. */
export type NextReading = {
  /** Ohms for a gauge, the value for a sender. */
  readonly argument: number;
  /** Place on the arc (of a sender compressed ohms) that each model expects, likeliest first. */
  readonly expected: readonly { readonly id: string; readonly value: number }[];
  /** What it is expected to tell, in bits. */
  readonly bits: number;
};

/** More models than these share nothing that matters. */
const MOST_MODELS = 8;
const LEAST_SHARE = 1e-3;
const GRID = 160;
/** Readings that tell nearly as much as the best: the nearest of them to where the needle stands means the least waiting. */
const NEARLY = 0.95;
/** Less is not worth the way to the gauge. */
const LEAST_BITS = 0.02;

type Weighed = { readonly model: number; readonly share: number };
type Normal = { readonly share: number; readonly mean: number; readonly variance: number };

export type NextOptions = {
  readonly noneShare: number;
  /** By which dial it is read. */
  readonly arc: number;
  /** No advice below this position. */
  readonly leastPosition: number;
};

/**
 * The place where one more reading tells most between the models, none of them included.
 * Source: greatest mutual information between model and reading, Lindley, Ann. Math. Stat. 27 (1956) 986-1005; each model
 * a mixture of normals over tau, given the readings so far; entropies by quadrature.
 */
export function bestNextReading(
  bank: Bank,
  sights: readonly Sight[],
  ranked: readonly Weighed[],
  { noneShare, arc, leastPosition }: NextOptions,
): NextReading | undefined {
  const models = ranked.filter(({ share }) => share > LEAST_SHARE).slice(0, MOST_MODELS);
  const [first] = models;
  if (first === undefined) return undefined;
  const known = models.map((each) => ({ ...each, nodes: nodesOf(bank, each.model, sights) }));
  const low = Math.max(leastPosition, Math.min(...models.map(({ model }) => bank.from[model]!)));
  const high = Math.min(POSITIONS - 1, Math.max(...models.map(({ model }) => bank.to[model]!)));
  const noise = Math.min(...sights.map(({ uncertainty }) => uncertainty[arc]!)) ** 2;
  const places = Array.from({ length: POSITIONS }, (_, i) => i).filter((i) => i >= low && i <= high);
  const unknown = noneShare > LEAST_SHARE ? places.map((place) => unknownAt(bank, [place])) : [];
  const told = places.map((place, i) => {
    const sorts = known.map(({ share, model, nodes }) => ({
      share,
      parts: nodes.map((node) => expectedBy(bank, model, { place, node, noise })),
    }));
    const none = unknown[i];
    if (none !== undefined)
      sorts.push({
        share: noneShare,
        parts: [{ share: 1, mean: none.mean[0]!, variance: none.covariance[0]![0]! + noise }],
      });
    return { place, bits: information(sorts) };
  });
  const best = Math.max(...told.map(({ bits }) => bits));
  if (!(best > LEAST_BITS)) return undefined;
  const stands = sights.at(-1)!.position;
  const near = told
    .filter(({ bits }) => bits >= NEARLY * best)
    .sort((one, other) => Math.abs(one.place - stands) - Math.abs(other.place - stands))[0]!;
  return {
    argument: bank.axis.at(near.place),
    bits: near.bits,
    expected: models
      .slice(0, 3)
      .map(({ model }) => ({ id: bank.ids[model]!, value: meanOf(bank, model, near.place) })),
  };
}

/** What the readings so far say of a specimen's shift and gain, for each tau. */
type Node = { readonly share: number } & ReturnType<typeof atTau>;

function nodesOf(bank: Bank, model: number, sights: readonly Sight[]): Node[] {
  const sums = sumsOf(bank, model, sights);
  if (sums === undefined) return [];
  const nodes = Array.from({ length: TAUS }, (_, node) => atTau(sums, bank.taus[model * TAUS + node]!));
  const best = Math.max(...nodes.map(({ logLikelihood }) => logLikelihood));
  const weights = nodes.map(({ logLikelihood }) => Math.exp(logLikelihood - best));
  const total = weights.reduce((sum, each) => sum + each, 0);
  return nodes.map((node, i) => ({ ...node, share: weights[i]! / total }));
}

type Place = { readonly place: number; readonly node: Node; readonly noise: number };

function expectedBy(bank: Bank, model: number, { place, node, noise }: Place): Normal {
  const gain = standing(bank, model, place);
  return {
    share: node.share,
    mean: meanOf(bank, model, place) + node.shift + gain * node.gain,
    variance:
      uncertaintyOf(bank, model, place) ** 2 +
      noise +
      node.shiftVariance +
      2 * gain * node.covariance +
      gain ** 2 * node.gainVariance,
  };
}

type Sort = { readonly share: number; readonly parts: readonly Normal[] };

/** Mutual information between which sort it is and what is read, in bits. Shares are made to add up to one. */
function information(sorts: readonly Sort[]): number {
  const all = sorts.flatMap(({ parts }) => parts);
  const from = Math.min(...all.map(({ mean, variance }) => mean - 4 * Math.sqrt(variance)));
  const to = Math.max(...all.map(({ mean, variance }) => mean + 4 * Math.sqrt(variance)));
  const step = (to - from) / GRID;
  const total = sorts.reduce((sum, { share }) => sum + share, 0);
  let bits = 0;
  for (let i = 0; i < GRID; i += 1) {
    const at = from + (i + 0.5) * step;
    const densities = sorts.map(({ parts }) =>
      parts.reduce((sum, part) => sum + part.share * density(part, at), 0),
    );
    const mixed = densities.reduce((sum, each, k) => sum + (sorts[k]!.share / total) * each, 0);
    densities.forEach((each, k) => {
      if (each > 0 && mixed > 0) bits += (sorts[k]!.share / total) * each * Math.log2(each / mixed) * step;
    });
  }
  return Math.max(0, bits);
}

const density = ({ mean, variance }: Normal, at: number): number =>
  Math.exp(-((at - mean) ** 2) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance);
