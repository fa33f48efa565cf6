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

/** Guards that are asked in every second turn, with the time since they were last asked. */
class Group {
  readonly #guards: readonly Guard[];
  #elapsedMs = 0;

  constructor(guards: readonly Guard[]) {
    this.#guards = guards;
  }

  wait(elapsedMs: number): void {
    this.#elapsedMs += elapsedMs;
  }

  check(view: GuardView, context: GuardContext): Trip | undefined {
    view.elapsedMs += this.#elapsedMs;
    this.#elapsedMs = 0;
    return checkAll(this.#guards, view, context);
  }

  reset(): void {
    for (let index = 0; index < this.#guards.length; index += 1) this.#guards[index]!.reset();
  }
}

/** The first trip; every guard is asked, because each keeps its own count of heat and time. */
function checkAll(guards: readonly Guard[], view: GuardView, context: GuardContext): Trip | undefined {
  let first: Trip | undefined;
  for (let index = 0; index < guards.length; index += 1) {
    const trip = guards[index]!.check(view, context);
    if (first === undefined) first = trip;
  }
  return first;
}

/** Every guard of a channel, in the order in which they are asked. */
export class Guards {
  /** What one sample can show: in every turn. */
  readonly #quick: readonly Guard[] = [
    hardwareCurrentGuard,
    currentGuard(),
    supplyGuard(),
    contactGuard(),
    weldedGuard(),
    meterSilentGuard,
  ];
  /** What takes its time: one group in a turn, the other in the next. */
  readonly #rowGroup = new Group([elementPowerGuard(), railGuard()]);
  readonly #boxGroup = new Group([totalPowerGuard(), lowResistanceGuard(), deadManGuard]);
  #isRowTurn = false;
  #contactMask = 0;

  /** Changes the view's elapsed time. */
  check(view: GuardView, context: GuardContext): Trip | undefined {
    const { elapsedMs, contactMask } = view;
    const quick = checkAll(this.#quick, view, context);
    // When contacts move the accounts of the resistors are closed at once.
    this.#isRowTurn = !this.#isRowTurn || contactMask !== this.#contactMask;
    this.#contactMask = contactMask;
    (this.#isRowTurn ? this.#boxGroup : this.#rowGroup).wait(elapsedMs);
    const slow = (this.#isRowTurn ? this.#rowGroup : this.#boxGroup).check(view, context);
    return quick ?? slow;
  }

  reset(): void {
    for (let index = 0; index < this.#quick.length; index += 1) this.#quick[index]!.reset();
    this.#rowGroup.reset();
    this.#boxGroup.reset();
  }
}
