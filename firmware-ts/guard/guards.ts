import { contactGuard } from './contact';
import { currentGuard, hardwareCurrentGuard } from './current';
import { deadManGuard } from './dead-man';
import type { Guard, GuardContext, GuardView, Trip } from './guard';
import { lowResistanceGuard } from './low-resistance';
import { meterSilentGuard } from './meter-silent';
import { elementPowerGuard, totalPowerGuard } from './power';
import { railGuard } from './rail';
import { supplyGuard } from './supply';
import { weldedGuard } from './welded';

/** Every guard of a channel, in the order in which they are asked. */
export class Guards {
  readonly #guards: readonly Guard[] = [
    hardwareCurrentGuard,
    currentGuard,
    supplyGuard(),
    elementPowerGuard(),
    totalPowerGuard(),
    lowResistanceGuard(),
    contactGuard(),
    weldedGuard(),
    meterSilentGuard,
    railGuard(),
    deadManGuard,
  ];

  /** The first trip; every guard is asked each time, because each keeps its own count of heat and time. */
  check(view: Readonly<GuardView>, context: GuardContext): Trip | undefined {
    let first: Trip | undefined;
    for (let index = 0; index < this.#guards.length; index += 1) {
      const trip = this.#guards[index]!.check(view, context);
      if (first === undefined) first = trip;
    }
    return first;
  }

  reset(): void {
    for (let index = 0; index < this.#guards.length; index += 1) this.#guards[index]!.reset();
  }
}
