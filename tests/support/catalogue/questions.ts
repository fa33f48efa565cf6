import { bankOf } from '../../../host/core/catalogue/bank';
import { ohmAxis } from '../../../host/core/catalogue/columns';
import { identifyModel, type ModelIdentification } from '../../../host/core/catalogue/identify-model';
import { USUAL_SPREAD_PART } from '../../../host/core/catalogue/spread';
import { randomSource, type RandomSource } from '../../../host/core/numeric/random';
import { answered } from '../answer';
import { anyMaker, isAlike, type Maker, readBy, specimenOf, threeOhms, worldOf } from './gauge-world';

export type Asked = {
  readonly isKnown: boolean;
  readonly isRight: boolean;
  readonly found: ModelIdentification;
};
export type Answers = { readonly three: readonly Asked[]; readonly four: readonly Asked[] };

/** Half of the questions are about new specimens of known models, half about models nobody has measured. */
export function askMany(models: number, questions: number, seed: number): Answers {
  const random = randomSource(seed);
  const { makers, candidates } = worldOf(models, random, 0.02);
  const bank = bankOf(candidates, { kind: 'gauge', axis: ohmAxis, usual: USUAL_SPREAD_PART });
  const options = { unit: '%', nonePrior: 0.5, leastOhm: 2 };
  const [three, four]: [Asked[], Asked[]] = [[], []];
  for (let question = 0; question < questions; question += 1) {
    const isKnown = question % 2 === 0;
    const index = Math.floor(random.uniform() * makers.length);
    const maker = isKnown ? makers[index]! : newTo(makers, random);
    const part = specimenOf(maker, random, 0.02);
    const points = threeOhms(maker, random).map((ohm) => readBy(part, ohm, random));
    const judge = (found: ModelIdentification): Asked => ({
      ...{ isKnown, found },
      isRight: isKnown && found.ranking[0]!.ids.some((id) => isAlike(makers[Number(id)]!, maker)),
    });
    const first = answered(identifyModel(points, bank, options));
    three.push(judge(first));
    const next = first.next?.argument;
    const more = next === undefined ? [] : [readBy(part, next, random)];
    four.push(judge(answered(identifyModel([...points, ...more], bank, options))));
  }
  return { three, four };
}

/** A gauge that differs from all known ones: nowhere three tau apart is the same by the numbers. */
function newTo(makers: readonly Maker[], random: RandomSource): Maker {
  for (;;) {
    const maker = anyMaker(random);
    if (!makers.some((known) => isAlike(known, maker))) return maker;
  }
}

const part = (list: readonly Asked[], test: (each: Asked) => boolean): number =>
  list.length === 0 ? 0 : list.filter(test).length / list.length;

/** True model first, among questions about known ones. */
export const firstShare = (list: readonly Asked[]): number =>
  part(
    list.filter(({ isKnown }) => isKnown),
    ({ isRight }) => isRight,
  );

/** A clear name for a gauge that nobody has measured. */
export const falseClearShare = (list: readonly Asked[]): number =>
  part(
    list.filter(({ isKnown }) => !isKnown),
    ({ found }) => found.verdict === 'clear',
  );

/** Of all that was said with a share between two limits, how much was right; what was said of "none" counts too. */
export function rightBetween(
  list: readonly Asked[],
  from: number,
  to: number,
): { readonly said: number; readonly right: number } {
  const said = list.flatMap(({ isKnown, isRight, found }) => [
    { share: found.ranking[0]!.share, right: isRight },
    { share: found.noneShare, right: !isKnown },
  ]);
  const within = said.filter(({ share }) => share >= from && share < to);
  return {
    said: within.length,
    right: within.filter(({ right }) => right).length / Math.max(1, within.length),
  };
}
