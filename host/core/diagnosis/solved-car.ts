import { changed, type Car } from './car';
import { causeRow } from './causes';
import { OPEN_LOAD, senderLoad, senderOhm, solve, type Made } from './circuit';
import type { Draws } from './draws';
import type { CauseName } from './names';
import type { Bench } from './tests';

/** What all vehicles of a cloud have in common. */
export type Setting = Made & {
  readonly middleOhm: number;
  readonly lowestOhm: number;
  /** Ohms of two loads inside the stretch over which an electronic gauge may hold still. */
  readonly flatOhms: readonly [number, number];
};

/** Ohms that a good sender would have as the vehicle stands, and with its engine hot. */
type GoodOhms = { readonly cool: number; readonly warm: number; readonly elsewhere: number };

/** One vehicle before anything is wrong with it, and the chances that it was made of. */
export type SoundCar = {
  readonly draw: Draws;
  readonly car: Car;
  readonly good: GoodOhms;
  readonly truePlace: number;
};

/** Below its middle a needle has most of its way above it. */
export const isLow = (place: number): boolean => place < 0.5;

/** A sound vehicle with these faults, solved in every state that a test looks at. */
export function solvedCar(
  setting: Setting,
  { car: sound, good, draw, truePlace }: SoundCar,
  causes: readonly CauseName[],
): Bench {
  const { family, flatOhms } = setting;
  const { faults } = draw;
  let car = changed(sound, {});
  causes.forEach((name, index) => {
    // Two faults of one vehicle have sizes of their own.
    const u = index === 0 ? faults : [...faults.slice(4), ...faults.slice(0, 4)];
    car = changed(car, causeRow(name).fault(car, family, u));
  });
  const onLoad = (ohm: number, isLit = false) => solve(car, setting, { ohm, liftVolt: 0 }, isLit);
  const coolOhm = senderOhm(car, family, good.cool);
  const warmOhm = senderOhm(car, family, good.warm);
  const asFound = (ohm: number, isLoaded: boolean) =>
    solve(car, setting, senderLoad(car, ohm, isLoaded), isLoaded);
  return {
    car,
    family,
    cause: causes[0] ?? 'sound',
    truePlace,
    senderOhm: coolOhm,
    warmOhm,
    cool: asFound(coolOhm, false),
    loaded: asFound(coolOhm, true),
    warm: asFound(warmOhm, false),
    elsewhere: asFound(senderOhm(car, family, good.elsewhere), false),
    isElsewhereHigher: isLow(truePlace),
    open: solve(car, setting, OPEN_LOAD),
    middle: onLoad(setting.middleOhm),
    lit: onLoad(setting.middleOhm, true),
    lowest: onLoad(setting.lowestOhm),
    flatStep: family.kind === 'electronic' ? onLoad(flatOhms[1]).place - onLoad(flatOhms[0]).place : 0,
  };
}
