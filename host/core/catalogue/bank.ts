import { arcOf, type Arc } from './arc-scale';
import { columnAt, POSITIONS, type Axis, type Columns } from './columns';
import { modelCurve } from './model-curve';
import { tauQuantile } from './spread';

/** Values of tau that stand for a model's posterior: middles of equal parts of its probability. */
export const TAUS = 6;
const SEARCH_NODES = 60;

/** A model, or a card that nobody has given one: the curves of its specimens. */
export type Candidate = {
  readonly id: string;
  readonly specimens: readonly Columns[];
  /** The usual spread of such parts, where it is known better than for all. */
  readonly usual?: number;
};

/** Every model in a form that is scanned in one go: numbers side by side. */
export type Bank = {
  readonly kind: 'gauge' | 'sender';
  readonly axis: Axis;
  readonly ids: readonly string[];
  readonly mean: Float32Array;
  readonly uncertainty: Float32Array;
  /** Where each is known, as positions of the axis. */
  readonly from: Float32Array;
  readonly to: Float32Array;
  readonly taus: Float32Array;
  /** Different dials, and which of them each model has. */
  readonly arcs: readonly Arc[];
  readonly arcAt: Uint32Array;
};

export type BankOptions = {
  readonly kind: 'gauge' | 'sender';
  readonly axis: Axis;
  /** The usual spread of such parts. */
  readonly usual: number;
};

/** Source: `modelCurve` of each candidate. */
export function bankOf(candidates: readonly Candidate[], { kind, axis, usual }: BankOptions): Bank {
  const count = candidates.length;
  const bank = {
    mean: new Float32Array(count * POSITIONS),
    uncertainty: new Float32Array(count * POSITIONS),
    from: new Float32Array(count),
    to: new Float32Array(count),
    taus: new Float32Array(count * TAUS),
    arcAt: new Uint32Array(count),
  };
  const singles = new Map<number, readonly number[]>();
  const single = (spread: number): readonly number[] => {
    const known = singles.get(spread) ?? tausOfOne(spread);
    singles.set(spread, known);
    return known;
  };
  const dials = new Map<string, number>();
  const arcs: Arc[] = [];
  candidates.forEach(({ specimens, usual: own = usual }, index) => {
    const [first] = specimens;
    if (first === undefined) return;
    const curve = specimens.length === 1 ? undefined : modelCurve(specimens, axis, own, SEARCH_NODES);
    bank.mean.set(curve?.mean ?? first.value, index * POSITIONS);
    bank.uncertainty.set(curve?.uncertainty ?? first.uncertainty, index * POSITIONS);
    bank.from[index] = axis.index(curve?.from ?? first.from);
    bank.to[index] = axis.index(curve?.to ?? first.to);
    for (let node = 0; node < TAUS; node += 1)
      bank.taus[index * TAUS + node] =
        curve === undefined ? single(own)[node]! : tauQuantile(curve.spread, (node + 0.5) / TAUS);
    const scale = specimens.find((each) => each.scale.marks.length > 1)?.scale ?? first.scale;
    const key = JSON.stringify(scale);
    const known = dials.get(key);
    if (known === undefined) arcs.push(arcOf(scale));
    dials.set(key, known ?? arcs.length - 1);
    bank.arcAt[index] = known ?? arcs.length - 1;
  });
  return { kind, axis, ids: candidates.map(({ id }) => id), arcs, ...bank };
}

/** Of one specimen the prior is all that is known. Source: quantiles of a half-Cauchy. */
const tausOfOne = (usual: number): number[] =>
  Array.from({ length: TAUS }, (_, node) => usual * Math.tan(((node + 0.5) / TAUS) * (Math.PI / 2)));

/** What a model expects at a position. */
export const meanOf = ({ mean }: Bank, model: number, position: number): number =>
  columnAt(mean, position, model * POSITIONS);

/** How well that is known. */
export const uncertaintyOf = ({ uncertainty }: Bank, model: number, position: number): number =>
  columnAt(uncertainty, position, model * POSITIONS);

/** Where along itself a model stands: -1 at its low end, 1 at its high end. The gain acts by it. */
export const standing = (bank: Bank, model: number, position: number): number =>
  standingAt(bank, model, position, meanOf(bank, model, position));

/** The same where the mean there is known already. */
export function standingAt(bank: Bank, model: number, position: number, mean: number): number {
  const part =
    bank.kind === 'gauge'
      ? 2 * mean - 1
      : (2 * (position - bank.from[model]!)) / Math.max(1, bank.to[model]! - bank.from[model]!) - 1;
  return Math.min(Math.max(part, -1), 1);
}
