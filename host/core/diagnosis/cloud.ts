import { causeRow, causesOf } from './causes';
import { testNames, type CauseName, type Part, type TestName, type Way } from './names';
import { drawsOf, soundCar, type Draws } from './draws';
import { randomSource } from '../numeric/random';
import { usualLoads, type GaugeFamily } from './family';
import { comparisonOf, readingSpread } from './measure';
import { scaleOf } from './needle';
import { isLow, solvedCar, type Setting, type SoundCar } from './solved-car';
import { isAside, isPossible, testRow, type Bench } from './tests';

/** What is said before the first measurement. Places are parts of the scale, 0 its low end, 1 its high end. */
export type Subject = {
  readonly family: GaugeFamily;
  readonly way: Way;
  /** Where the needle should stand now, by a reference; left out: nobody knows. */
  readonly standsAt?: number;
  readonly warmStandsAt?: number;
  /** The known loads; the family's usual ones when left out. */
  readonly middleOhm?: number;
  readonly lowestOhm?: number;
};

/** The loads that a subject is tried with. */
export const loadsOf = ({ family, middleOhm, lowestOhm }: Subject) => {
  const usual = usualLoads(family);
  return { middleOhm: middleOhm ?? usual.middleOhm, lowestOhm: lowestOhm ?? usual.lowestOhm };
};

/** One thing that may be wrong, or two. */
export type Hypothesis = {
  readonly causes: readonly CauseName[];
  readonly parts: readonly Part[];
  /** Share before anything is measured. */
  readonly prior: number;
  readonly first: number;
  readonly count: number;
};

/** Vehicles of this family, and what each test would show on each, on the scale of its comparison. */
export type Cloud = {
  readonly subject: Subject;
  readonly hypotheses: readonly Hypothesis[];
  readonly tests: readonly TestName[];
  /** By test, then by vehicle; spread of one reading beside it. */
  readonly outcomes: ReadonlyMap<TestName, Float64Array>;
  readonly spreads: ReadonlyMap<TestName, Float64Array>;
  /** What counts as unknown beside a reading's own spread, by hypothesis: a share of its outcomes' standard deviation. */
  readonly widths: ReadonlyMap<TestName, Float64Array>;
  /** Where a hypothesis leaves a test alone that shares nothing with the others: weighed once for all its vehicles. */
  readonly idle: ReadonlyMap<TestName, readonly boolean[]>;
  /** A chance of each vehicle's own reading, the same for every cause. */
  readonly chances: ReadonlyMap<TestName, Float64Array>;
};

const PARTICLES = 1000;
const PAIR_PARTICLES = 120;
/** Two things wrong at once, of all that is wrong. An assumption. */
const PAIR_SHARE = 0.12;
const REFERENCE_ERROR = 0.03;
/** Nobody knows where the needle should stand: anywhere. */
const UNKNOWN_ERROR = 0.28;
const MIDDLE_PLACE = 0.5;
const WARM_PLACE = 0.65;
/** Whoever knows the vehicle has seen its needle so far from where it stands, part of the scale. */
const ELSEWHERE = 0.4;

type Recipe = { readonly causes: readonly CauseName[]; readonly prior: number; readonly count: number };

function singles(family: GaugeFamily): Recipe[] {
  const names = causesOf(family);
  const all = names.reduce((sum, name) => sum + causeRow(name).weight, 0);
  return names.map((name) => ({ causes: [name], prior: causeRow(name).weight / all, count: PARTICLES }));
}

function pairs(family: GaugeFamily): Recipe[] {
  const names = causesOf(family).filter((name) => name !== 'sound');
  const both = names.flatMap((one, index) =>
    names
      .slice(index + 1)
      .filter((other) => causeRow(one).part !== causeRow(other).part)
      .map((other) => ({ causes: [one, other], weight: causeRow(one).weight * causeRow(other).weight })),
  );
  const all = both.reduce((sum, { weight }) => sum + weight, 0);
  return both.map(({ causes, weight }) => ({
    ...{ causes, prior: (PAIR_SHARE * weight) / all, count: PAIR_PARTICLES },
  }));
}

/** The cloud of single causes of a subject: the same seed gives the same cloud. */
export const cloudOf = (subject: Subject, seed: number): Cloud =>
  build(subject, seed, singles(subject.family));

/** The same with pairs of causes beside the single ones. */
export const cloudWithPairs = (subject: Subject, seed: number): Cloud =>
  build(subject, seed, [
    ...singles(subject.family).map((each) => ({ ...each, prior: (1 - PAIR_SHARE) * each.prior })),
    ...pairs(subject.family),
  ]);

function build(subject: Subject, seed: number, recipes: readonly Recipe[]): Cloud {
  const { family, way } = subject;
  const setting = settingOf(subject);
  const sound = soundOnes(subject, setting, drawsOf(seed, PARTICLES));
  const total = recipes.reduce((sum, { count }) => sum + count, 0);
  const names = testNames.filter((name) => isPossible(name, family, way));
  const outcomes = new Map(names.map((name) => [name, new Float64Array(total)]));
  const hypotheses: Hypothesis[] = [];
  let first = 0;
  for (const { causes, prior, count } of recipes) {
    const parts = [...new Set(causes.map((name) => causeRow(name).part))];
    hypotheses.push({ causes, parts, prior, first, count });
    for (let index = 0; index < count; index += 1) {
      const bench = solvedCar(setting, sound[index]!, causes);
      for (const name of names) outcomes.get(name)![first + index] = outcomeOf(name, bench, causes);
    }
    first += count;
  }
  return { subject, hypotheses, tests: names, outcomes, ...spreadsOf(outcomes, subject, hypotheses, seed) };
}

/** A test that asks yes or no answers for the cause that says yes oftenest, or where both have to for the other. */
function outcomeOf(name: TestName, bench: Bench, causes: readonly CauseName[]): number {
  const { measure, outcome, isOfBoth } = testRow(name);
  if (measure !== 'chance') return comparisonOf(name).scaled(outcome(bench));
  if (causes.length === 1) return outcome(bench);
  const each = causes.map((cause) => outcome({ ...bench, cause }));
  return isOfBoth ? Math.min(...each) : Math.max(...each);
}

/** Places between which an electronic gauge is asked whether it moves. */
const FLAT_PLACES = [0.5, 0.59] as const;

function settingOf(subject: Subject): Setting {
  const { family } = subject;
  const scale = scaleOf(family);
  return {
    ...{ family, scale },
    ...loadsOf(subject),
    flatOhms: [scale.ohmAt(FLAT_PLACES[0]), scale.ohmAt(FLAT_PLACES[1])],
  };
}

function soundOnes(
  { standsAt, warmStandsAt }: Subject,
  { scale }: Setting,
  draws: readonly Draws[],
): SoundCar[] {
  return draws.map((draw) => {
    const car = soundCar(draw, {
      cool: standsAt === undefined ? UNKNOWN_ERROR : REFERENCE_ERROR,
      warm: warmStandsAt === undefined ? UNKNOWN_ERROR / 2 : REFERENCE_ERROR,
    });
    const truePlace = (standsAt ?? MIDDLE_PLACE) + car.coolError;
    const cool = scale.ohmAt(truePlace);
    const warm = scale.ohmAt((warmStandsAt ?? WARM_PLACE) + car.warmError);
    const elsewhere = scale.ohmAt(truePlace + (isLow(truePlace) ? ELSEWHERE : -ELSEWHERE));
    return { draw, car, good: { cool, warm, elsewhere }, truePlace };
  });
}

function spreadsOf(
  outcomes: ReadonlyMap<TestName, Float64Array>,
  { way, family }: Subject,
  hypotheses: readonly Hypothesis[],
  seed: number,
): Pick<Cloud, 'spreads' | 'widths' | 'idle' | 'chances'> {
  const spreads = new Map<TestName, Float64Array>();
  const widths = new Map<TestName, Float64Array>();
  const idle = new Map<TestName, readonly boolean[]>();
  const chances = new Map<TestName, Float64Array>();
  let stream = seed;
  for (const [name, list] of outcomes) {
    const { back } = comparisonOf(name);
    spreads.set(
      name,
      list.map((scaled) => readingSpread(name, back(scaled), way)),
    );
    const shapes = shapesOf(list, hypotheses);
    widths.set(name, shapes.widths);
    idle.set(name, isAside(name, family) ? shapes.idle : []);
    stream += 1;
    const random = randomSource(stream);
    chances.set(
      name,
      Float64Array.from({ length: PARTICLES }, () => random.normal()),
    );
  }
  return { spreads, widths, idle, chances };
}

/** A few vehicles stand for all: between them lies this share of what a test's outcomes spread over. */
const KERNEL = 0.15;
/** So much wider than a sound vehicle's, or shifted by so much of its width, outcomes are acted upon. */
const ACTED_WIDTH = 1.4;
const ACTED_SHIFT = 0.5;

function shapesOf(list: Float64Array, hypotheses: readonly Hypothesis[]) {
  const shapes = hypotheses.map(({ first, count }) => momentsOf(list, first, count));
  const [sound = { mean: 0, width: 0 }] = shapes;
  return {
    widths: Float64Array.from(shapes, ({ width }) => KERNEL * width),
    idle: shapes.map(
      ({ mean, width }) =>
        width < ACTED_WIDTH * sound.width && Math.abs(mean - sound.mean) < ACTED_SHIFT * sound.width,
    ),
  };
}

function momentsOf(
  list: Float64Array,
  first: number,
  count: number,
): { readonly mean: number; readonly width: number } {
  let sum = 0;
  let squares = 0;
  for (let index = first; index < first + count; index += 1) {
    const value = list[index]!;
    sum += value;
    squares += value * value;
  }
  const mean = sum / count;
  return { mean, width: Math.sqrt(Math.max(0, squares / count - mean * mean)) };
}
