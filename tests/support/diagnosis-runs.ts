import {
  cloudsOf,
  diagnose,
  families,
  loadsOf,
  type Clouds,
  type Diagnosis,
  type FamilyName,
  type Reading,
  type Subject,
  type Way,
} from '../../host/core/diagnosis';
import { causeRow } from '../../host/core/diagnosis/causes';
import { causeNames, type CauseName, type Part } from '../../host/core/diagnosis/names';
import { randomSource } from '../../host/core/numeric/random';
import { drawVehicle, measure, plantable, worthOf } from '../../host/core/simulated-vehicle';

export const familyNames = [
  'thermal-temperature',
  'thermal-fuel',
  'two-coil-fuel',
  'cross-coil-temperature',
  'cross-coil-fuel',
  'moving-coil-pressure',
  'electronic-temperature',
] as const satisfies readonly FamilyName[];

/** One vehicle of a round: what was planted, and how its diagnosis went. */
export type Run = {
  readonly family: FamilyName;
  readonly faults: readonly CauseName[];
  /** How far the needle is wrong by it, part of the scale. */
  readonly worth: number;
  readonly last: Diagnosis;
  readonly tests: number;
  readonly decisions: readonly number[];
};

export type Round = {
  readonly seed: number;
  readonly way: Way;
  readonly wrongDigits: number;
  readonly isPositiveGround?: boolean;
  /** What is assumed of how often each cause comes is wrong by up to three times, either way. */
  readonly hasWrongPriors?: boolean;
};

const REFERENCE_ERROR = 0.05;
const MOST_STEPS = 45;

/** Where people say that the needle should stand: as the vehicle comes in, and with its engine hot. */
const SAID = {
  temperature: { cool: [0.1, 0.22, 0.34], warm: 0.7 },
  fuel: { cool: [0.2, 0.5, 0.8], warm: 0.5 },
  pressure: { cool: [0.03], warm: 0.6 },
} as const;

/** Takes one vehicle through its check, from nothing known to the last word. `now` tells the time of each decision. */
export function runVehicle(
  family: FamilyName,
  faults: readonly CauseName[],
  { seed, way, wrongDigits, isPositiveGround = false, hasWrongPriors = false }: Round,
  now: () => number = () => 0,
): Run {
  const random = randomSource(seed);
  const { quantity } = families[family];
  const { cool, warm } = SAID[quantity];
  const standsAt = cool[Math.floor(random.uniform() * cool.length)] ?? cool[0];
  // What the person says of the state is out by up to a twentieth of the scale.
  const truth = (said: number): number => said + REFERENCE_ERROR * (2 * random.uniform() - 1);
  const places = { coolPlace: truth(standsAt), warmPlace: truth(warm) };
  const twin = Math.floor(1e9 * random.uniform());
  const drawn = drawVehicle(families[family], faults, randomSource(twin));
  const vehicle = { ...drawn, ...places, isPositiveGround };
  const sound = { ...drawVehicle(families[family], [], randomSource(twin)), ...places };
  const subject: Subject = { family: families[family], way, standsAt, warmStandsAt: warm };
  const clouds = hasWrongPriors ? withWrongPriors(sharedClouds(subject)) : sharedClouds(subject);
  const observer = { random, hasBox: way === 'box', wrongDigits, loads: loadsOf(subject) };
  const readings: Reading[] = [];
  const decisions: number[] = [];
  for (let step = 0; ; step += 1) {
    const before = now();
    const last = diagnose(clouds, { readings });
    decisions.push(now() - before);
    // As the host does while somebody measures.
    if (last.wantsPairs) clouds.withPairs();
    const { next } = last;
    if (next === undefined || step >= MOST_STEPS)
      return { family, faults, worth: worthOf(vehicle, sound), last, tests: readings.length, decisions };
    readings.push({ test: next.test, value: measure(vehicle, next.test, observer) });
  }
}

const CLOUD_SEED = 20_261;
/** A family is met in three states; more clouds than that fill the memory and nobody needs them again. */
const MOST_CLOUDS = 3;
const shared = new Map<string, Clouds>();

function sharedClouds(subject: Subject): Clouds {
  const key = JSON.stringify(subject);
  const known = shared.get(key);
  if (known !== undefined) return known;
  const fresh = cloudsOf(subject, CLOUD_SEED);
  shared.set(key, fresh);
  const [oldest] = shared.keys();
  if (shared.size > MOST_CLOUDS && oldest !== undefined) shared.delete(oldest);
  return fresh;
}

const WRONG_BY = 3;
const wrong = new WeakMap<Clouds, Clouds>();

/** The same vehicles with other shares: each cause's is wrong by a factor of its own, evenly by ratio. */
function withWrongPriors(clouds: Clouds): Clouds {
  const known = wrong.get(clouds);
  if (known !== undefined) return known;
  const random = randomSource(WRONG_SEED);
  const factors = new Map(causeNames.map((name) => [name, WRONG_BY ** (2 * random.uniform() - 1)]));
  const changed = (cloud: Clouds['single']): Clouds['single'] => {
    const shares = cloud.hypotheses.map(({ causes, prior }) =>
      causes.reduce((share, name) => share * (factors.get(name) ?? 1), prior),
    );
    const all = shares.reduce((sum, each) => sum + each, 0);
    return {
      ...cloud,
      hypotheses: cloud.hypotheses.map((each, at) => ({ ...each, prior: (shares[at] ?? 0) / all })),
    };
  };
  let pairs: Clouds['single'] | undefined;
  const fresh: Clouds = {
    single: changed(clouds.single),
    withPairs: () => (pairs ??= changed(clouds.withPairs())),
  };
  wrong.set(clouds, fresh);
  return fresh;
}
const WRONG_SEED = 33;

/** What came of mending what was named and checking again, until it is called sound or nothing is named. */
export type Mended = { readonly isWhole: boolean; readonly minutes: number; readonly rounds: number };
const MOST_ROUNDS = 5;

/** A fault is mended when its part is named, or taken for most likely; a part that was good stays so. */
export function mendAndCheckAgain(
  family: FamilyName,
  faults: readonly CauseName[],
  round: Round,
  now?: () => number,
): Mended {
  let left = faults;
  let minutes = 0;
  for (let rounds = 1; ; rounds += 1) {
    const { last } = runVehicle(family, left, { ...round, seed: round.seed + rounds - 1 }, now);
    minutes += last.minutes;
    const likely = last.verdict === 'most-likely' ? last.suspects.slice(0, 1) : [];
    const parts = (last.verdict === 'is' ? last.named : likely).map(({ part }) => part);
    left = left.filter((name) => !parts.includes(causeRow(name).part));
    const isOver = parts.length === 0 || parts.includes('sound') || rounds === MOST_ROUNDS;
    if (isOver) return { isWhole: left.length === 0, minutes, rounds };
  }
}

/** Single faults and sound vehicles in turn: every cause of every family equally often, a sound one for every sixth. */
export function singleFaults(perCause: number): { family: FamilyName; faults: readonly CauseName[] }[] {
  return familyNames.flatMap((family) =>
    plantable(families[family]).flatMap((name) =>
      Array.from({ length: name === 'sound' ? 4 * perCause : perCause }, () => ({
        family,
        faults: name === 'sound' ? [] : [name],
      })),
    ),
  );
}

/** Two faults of different parts. */
export function pairFaults(
  count: number,
  seed: number,
): { family: FamilyName; faults: readonly CauseName[] }[] {
  const random = randomSource(seed);
  const pick = <One>(list: readonly One[]): One => list[Math.floor(random.uniform() * list.length)]!;
  return Array.from({ length: count }, () => {
    const family = pick(familyNames);
    const names = plantable(families[family]).filter((name) => name !== 'sound');
    for (;;) {
      const one = pick(names);
      const other = pick(names);
      if (causeRow(one).part !== causeRow(other).part) return { family, faults: [one, other] };
    }
  });
}

export const partsOf = ({ faults }: Pick<Run, 'faults'>): readonly Part[] =>
  faults.length === 0 ? ['sound'] : faults.map((name) => causeRow(name).part);

export const isSaidSound = ({ last }: Run): boolean => last.named.some(({ part }) => part === 'sound');
