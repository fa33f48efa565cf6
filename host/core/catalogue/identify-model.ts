import { compressedOhm, compressionSlope } from '../identify/compressed-ohm';
import { refuse, type Refusal } from '../refusal';
import { meanOf, TAUS, type Bank } from './bank';
import { logLikelihoodOf, mostLikely, spotsAt, sumsOf, type Sight, type Sums } from './likelihood';
import { bestNextReading, type NextReading } from './next-reading';
import { unknownLikelihood } from './unknown-model';

/** A reading of an unknown gauge, or a point of an unknown sender. */
export type AskedPoint = {
  readonly resistanceOhm: number;
  readonly value: number;
  /** Of the value, where it is not that of all. */
  readonly unit?: string | undefined;
  /** Standard uncertainty of the value, in its unit. */
  readonly valueUncertainty?: number | undefined;
  readonly resistanceUncertaintyOhm?: number | undefined;
};

/** Models that cannot be told apart stand together; the first is the likeliest of them. */
export type RankedModel = { readonly ids: readonly string[]; readonly share: number };

export type ModelIdentification = {
  readonly kind: 'model-identification';
  /** Best first, at most ten. */
  readonly ranking: readonly RankedModel[];
  /** Chance that it is none of the known models. */
  readonly noneShare: number;
  /** What was thought of that chance before any reading. */
  readonly nonePrior: number;
  readonly verdict: 'clear' | 'open' | 'none';
  readonly next: NextReading | undefined;
};

export type AskOptions = {
  readonly unit: string;
  /** Chance that a gauge is new to this shop. */
  readonly nonePrior: number;
  /** No resistance below this is advised. */
  readonly leastOhm: number;
};

/** One name is given at this share. Common practice, no source (the usual 95 %). */
const CLEAR_SHARE = 0.95;
/** One reading agrees with many a gauge that nobody has measured: it contradicts nothing. Derived here. */
const FEWEST_FOR_ONE = 2;
const MOST_RANKED = 10;
/** Models nowhere further apart than so many tau count as one. */
const ALIKE_TAUS = 3;
/** Where a needle stands, as a share of the dial; a meter with its leads; a bath. Common practice, no source. */
const USUAL_NEEDLE = 0.01;
const USUAL_OHM_SHARE = 0.01;
const USUAL_OHM = 0.2;
const USUAL_VALUE_POSITIONS = 0.3;

/**
 * Which of the known models the points belong to, or none of them.
 * Source: likelihood of a new specimen of each model (`logLikelihoodOf`), prior even among models, beside "none of these"
 * (`unknownLikelihood`). Refuses: IDENTIFY_NO_POINTS, IDENTIFY_NO_CURVES (none in such a unit), IDENTIFY_POINT.
 */
export function identifyModel(
  points: readonly AskedPoint[],
  bank: Bank,
  options: AskOptions,
): ModelIdentification | Refusal {
  if (points.length === 0) return refuse('IDENTIFY_NO_POINTS', {});
  const bad = points.findIndex(
    ({ value, resistanceOhm }) => !Number.isFinite(value) || !(resistanceOhm >= 0),
  );
  if (bad >= 0) {
    const { value, resistanceOhm } = points[bad]!;
    return refuse('IDENTIFY_POINT', { pointNumber: bad + 1, value, resistanceOhm });
  }
  const sights = points.map((point) => sightOf(point, bank, point.unit ?? options.unit));
  const judged = judge(bank, sights);
  if (judged.count === 0) return refuse('IDENTIFY_NO_CURVES', {});
  return weighed(judged, { bank, sights, options });
}

/** e to the minus this, times a million models, adds nothing to a share that anybody sees. */
const FAR_BELOW = 40;

/**
 * The likelihood of every model. One that cannot come near the best so far stands at a bound it does not reach; what is
 * ranked is reckoned in full, so the ranking is that of the whole list.
 */
function judge(bank: Bank, sights: readonly Sight[]): Judged {
  const logs = new Float64Array(bank.ids.length).fill(-Infinity);
  const isFull = new Uint8Array(logs.length);
  let [count, top] = [0, -Infinity];
  const inFull = (model: number, sums: Sums): void => {
    logs[model] = logLikelihoodOf(bank, model, sums);
    isFull[model] = 1;
    if (logs[model] > top) top = logs[model];
  };
  for (let model = 0; model < logs.length; model += 1) {
    const sums = sumsOf(bank, model, sights);
    if (sums === undefined) continue;
    count += 1;
    const most = mostLikely(bank, model, sums);
    if (most < top - FAR_BELOW) logs[model] = most;
    else inFull(model, sums);
  }
  for (;;) {
    const best = likeliest(logs, 2 * MOST_RANKED);
    const open = best.filter((model) => isFull[model] === 0);
    if (open.length === 0) return { logs, count, best };
    for (const model of open) {
      const sums = sumsOf(bank, model, sights);
      if (sums !== undefined) inFull(model, sums);
    }
  }
}

/** Log likelihood of every model, minus infinity where its dial measures something else; `best`: the likeliest, in order. */
type Judged = { readonly logs: Float64Array; readonly count: number; readonly best: readonly number[] };
type Asked = { readonly bank: Bank; readonly sights: readonly Sight[]; readonly options: AskOptions };

/** The models of greatest likelihood, best first, without putting all in order. */
function likeliest(logs: Float64Array, most: number): number[] {
  const best: number[] = [];
  for (let model = 0; model < logs.length; model += 1) {
    if (best.length === most && !(logs[model]! > logs[best[most - 1]!]!)) continue;
    if (logs[model] === -Infinity) continue;
    let at = best.length;
    while (at > 0 && logs[best[at - 1]!]! < logs[model]!) at -= 1;
    best.splice(at, 0, model);
    best.length = Math.min(best.length, most);
  }
  return best;
}

function weighed({ logs, count, best }: Judged, { bank, sights, options }: Asked): ModelIdentification {
  const [first] = best;
  const arc = bank.arcAt[first!]!;
  const known: number[] = [];
  for (let model = 0; model < logs.length; model += 1) if (logs[model] !== -Infinity) known.push(model);
  const none = Math.log(options.nonePrior) + unknownLikelihood(bank, sights, known);
  const prior = Math.log((1 - options.nonePrior) / count);
  const top = Math.max(none, prior + logs[first!]!);
  const noneWeight = Math.exp(none - top);
  let total = noneWeight;
  for (const log of logs) if (prior + log > top - FAR_BELOW) total += Math.exp(prior + log - top);
  const noneShare = noneWeight / total;
  const ranking = alike(best, bank)
    .map((models) => ({
      models,
      share: models.reduce((sum, model) => sum + Math.exp(prior + logs[model]! - top) / total, 0),
    }))
    .sort((one, other) => other.share - one.share)
    .slice(0, MOST_RANKED);
  return {
    kind: 'model-identification',
    ranking: ranking.map(({ models, share }) => ({ ids: models.map((model) => bank.ids[model]!), share })),
    ...{ noneShare, nonePrior: options.nonePrior },
    verdict: verdictOf(ranking[0]!.share, noneShare, sights.length),
    next: bestNextReading(
      bank,
      sights,
      ranking.map(({ models, share }) => ({ model: models[0]!, share })),
      { noneShare, arc, leastPosition: bank.kind === 'gauge' ? bank.axis.index(options.leastOhm) : 0 },
    ),
  };
}

function verdictOf(share: number, noneShare: number, points: number): ModelIdentification['verdict'] {
  if (noneShare >= CLEAR_SHARE) return 'none';
  return share >= CLEAR_SHARE && points >= FEWEST_FOR_ONE ? 'clear' : 'open';
}

/** Best first: each joins the first group to whose head it is nowhere further than three tau. */
function alike(models: readonly number[], bank: Bank): number[][] {
  const groups: number[][] = [];
  for (const model of models) {
    const home = groups.find(([head]) => head !== undefined && isAlike(bank, head, model));
    if (home === undefined) groups.push([model]);
    else home.push(model);
  }
  return groups;
}

function isAlike(bank: Bank, one: number, other: number): boolean {
  const middle = Math.floor(TAUS / 2);
  const tau = Math.min(bank.taus[one * TAUS + middle]!, bank.taus[other * TAUS + middle]!);
  const from = Math.ceil(Math.max(bank.from[one]!, bank.from[other]!));
  const to = Math.floor(Math.min(bank.to[one]!, bank.to[other]!));
  if (to <= from) return false;
  for (let position = from; position <= to; position += 1)
    if (Math.abs(meanOf(bank, one, position) - meanOf(bank, other, position)) > ALIKE_TAUS * tau)
      return false;
  return true;
}

function sightOf(point: AskedPoint, bank: Bank, unit: string): Sight {
  const ohm = point.resistanceOhm;
  const ohmUncertainty = point.resistanceUncertaintyOhm ?? USUAL_OHM + USUAL_OHM_SHARE * ohm;
  if (bank.kind === 'sender') {
    const u = point.valueUncertainty;
    const position = bank.axis.index(point.value);
    return {
      ...{ position, spots: spotsAt(position) },
      sideways:
        u === undefined ? USUAL_VALUE_POSITIONS : Math.abs(bank.axis.index(point.value + u) - position),
      seen: new Float64Array(bank.arcs.length).fill(compressedOhm(ohm)),
      uncertainty: new Float64Array(bank.arcs.length).fill(ohmUncertainty * compressionSlope(ohm)),
    };
  }
  const position = bank.axis.index(ohm);
  const place = (value: number, arc: number): number => bank.arcs[arc]!.place(value, unit) ?? NaN;
  const seen = Float64Array.from(bank.arcs, (_, arc) =>
    Math.min(Math.max(place(point.value, arc), -0.06), 1.06),
  );
  const u = point.valueUncertainty;
  return {
    ...{ position, spots: spotsAt(position) },
    sideways: Math.abs(bank.axis.index(ohm + ohmUncertainty) - position),
    seen,
    uncertainty: Float64Array.from(bank.arcs, (_, arc) =>
      u === undefined ? USUAL_NEEDLE : Math.abs(place(point.value + u, arc) - place(point.value, arc)),
    ),
  };
}
