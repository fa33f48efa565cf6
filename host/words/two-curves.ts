import type { CurvesDisagree } from '../job/wire/catalogue-messages';
import type { Notation } from './notation';

type Named = (id: string) => string;

/** Two curves of one part that contradict each other, and by how much. `named`: what a card is called here. */
export function disagreeWords(
  { kind, cards: [older, newer], unit, at, shows: [before, after], explained }: CurvesDisagree,
  named: Named,
  notation: Notation,
): string {
  const isGauge = kind === 'gauge';
  const place = isGauge ? notation.ohm(roughly(at)) : notation.short(at, unit);
  const shown = (value: number): string =>
    isGauge ? notation.short(value, unit) : notation.ohm(roughly(value));
  return (
    `${named(older)} and ${named(newer)} are curves of one and the same part, and they disagree. ` +
    `At ${place}, ${named(older)} ${isGauge ? 'reads' : 'has'} ${shown(before)} and ${named(newer)} ${shown(after)}: ` +
    `${shown(Math.abs(after - before))} apart, where their uncertainties explain ${shown(explained)}.`
  );
}

/** What to do about it. */
export function afterDisagreement({ kind, unit, at }: CurvesDisagree, notation: Notation): string {
  return kind === 'gauge'
    ? `Read this gauge once more near ${notation.ohm(roughly(at))}, at the supply it had. ${FURTHER}`
    : `Measure this sender once more near ${notation.short(at, unit)}. ${FURTHER}`;
}

const FURTHER =
  'Then withdraw the curve that is wrong. If the part itself has changed, let the newer curve replace the older. If these are two parts, set them apart.';

const roughly = (value: number): number => Number(value.toPrecision(3));
