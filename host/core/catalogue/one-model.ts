import { randomSource } from '../numeric/random';
import { chanceTauAbove, meanAt, nextBelow, pooledTau, spreadOf, type Specimen } from './spread';

/** Why specimens that a person calls one model may be none. */
export type NotOneModel =
  /** The spread is more than three times that of such parts, by 99 %. */
  | { readonly kind: 'too-wide'; readonly chance: number; readonly usual: number }
  /** Two groups explain them better than one, as chance does once in a hundred. */
  | { readonly kind: 'two-groups'; readonly low: readonly string[]; readonly high: readonly string[] }
  /** One lies where the others would not have put it, by 99.9 %. A person leaves it out, or not. */
  | { readonly kind: 'apart'; readonly id: string };

export type NamedSpecimen = Specimen & { readonly id: string };

const WIDE_TIMES = 3;
const WIDE_CHANCE = 0.99;
const APART_CHANCE = 0.001;
const GROUPS_CHANCE = 0.01;
/** Sets of specimens made of one group, to see how often chance splits them as well. */
const BOOTSTRAP_SETS = 199;
const FEWEST_FOR_GROUPS = 4;

/**
 * What speaks against one model at one place. `scale`: the usual spread of such parts; `places`: how many places are
 * looked at, so that looking often finds no more than looking once.
 * Source: posterior of tau (`spreadOf`); likelihood ratio of two groups against one with parametric bootstrap, McLachlan,
 * Applied Statistics 36 (1987) 318-324; leave-one-out prediction.
 */
export function againstOneModel(
  specimens: readonly NamedSpecimen[],
  { scale, places, seed }: { readonly scale: number; readonly places: number; readonly seed: number },
): NotOneModel[] {
  if (specimens.length < 2) return [];
  const chance = chanceTauAbove(spreadOf(specimens, scale), WIDE_TIMES * scale);
  return [
    ...(chance > WIDE_CHANCE ? [{ kind: 'too-wide' as const, chance, usual: scale }] : []),
    ...twoGroups(specimens, places, seed),
    ...specimens
      .filter((one) => isApart(one, specimens, { scale, places }))
      .map(({ id }) => ({ kind: 'apart' as const, id })),
  ];
}

/** Two others at least: one alone says little of where the next may lie. */
function isApart(
  one: NamedSpecimen,
  all: readonly NamedSpecimen[],
  { scale, places }: { readonly scale: number; readonly places: number },
): boolean {
  const others = all.filter(({ id }) => id !== one.id);
  if (others.length < 2) return false;
  const below = nextBelow(spreadOf(others, scale), one.value, one.uncertainty);
  return 2 * Math.min(below, 1 - below) * places < APART_CHANCE;
}

function twoGroups(specimens: readonly NamedSpecimen[], places: number, seed: number): NotOneModel[] {
  if (specimens.length < FEWEST_FOR_GROUPS) return [];
  const sorted = [...specimens].sort((one, other) => one.value - other.value);
  const found = bestSplit(sorted);
  const tau = pooledTau([sorted]);
  const { mean } = meanAt(sorted, tau);
  const random = randomSource(seed);
  let asGood = 0;
  const allowed = Math.floor((GROUPS_CHANCE / places) * (BOOTSTRAP_SETS + 1));
  for (let set = 0; set < BOOTSTRAP_SETS && asGood <= allowed; set += 1) {
    const made = sorted
      .map(({ uncertainty }) => ({
        value: mean + Math.hypot(tau, uncertainty) * random.normal(),
        uncertainty,
      }))
      .sort((one, other) => one.value - other.value);
    if (bestSplit(made).ratio >= found.ratio) asGood += 1;
  }
  if ((asGood + 1) / (BOOTSTRAP_SETS + 1) > Math.max(GROUPS_CHANCE / places, 1 / (BOOTSTRAP_SETS + 1)))
    return [];
  return [
    {
      kind: 'two-groups',
      low: sorted.slice(0, found.at).map(({ id }) => id),
      high: sorted.slice(found.at).map(({ id }) => id),
    },
  ];
}

/** The cut of a sorted list into two groups of two or more that gains most likelihood, both with one spread. */
function bestSplit(sorted: readonly Specimen[]): { readonly at: number; readonly ratio: number } {
  const one = logLikelihood([sorted]);
  let best = { at: 2, ratio: -Infinity };
  for (let at = 2; at <= sorted.length - 2; at += 1) {
    const ratio = logLikelihood([sorted.slice(0, at), sorted.slice(at)]) - one;
    if (ratio > best.ratio) best = { at, ratio };
  }
  return best;
}

const LEAST_TAU = 1e-5;

/** Of groups with their own means and one spread, at the spread that suits them best. */
function logLikelihood(groups: readonly (readonly Specimen[])[]): number {
  const tau = Math.max(pooledTau(groups), LEAST_TAU);
  return groups.reduce((sum, group) => {
    const { misfit, mean } = meanAt(group, tau);
    const logs = group.reduce((total, { uncertainty }) => total + Math.log(uncertainty ** 2 + tau ** 2), 0);
    return Number.isFinite(mean) ? sum - 0.5 * (misfit + logs) : sum;
  }, 0);
}
