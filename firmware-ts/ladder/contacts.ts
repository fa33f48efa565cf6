import {
  contactBits,
  gpioFromContacts,
  outputRelay,
  relayGpioMask,
  timerEarlyMs,
} from '../board/reference-design';
import type { Device } from '../device';
import type { DigitalBank } from '../ecma419';
import { planMove } from './moves';
import type { MoveStep } from './moves';

/** The output contact's longest release and a millisecond for the timer, rounded up to a turn. */
const OUTPUT_FIRST_MS = Math.ceil(outputRelay.releaseMaxMs + 2 * timerEarlyMs);

/** The relay coils: performs planned moves, and drops everything at once when asked. */
export class Contacts {
  readonly #bank: DigitalBank;
  #steps: readonly MoveStep[] = [];
  #nextStep = 0;
  #readyAtMs = 0;
  #commandedMask = 0;

  constructor({ io }: { readonly io: Pick<Device['io'], 'DigitalBank'> }) {
    this.#bank = new io.DigitalBank({ pins: relayGpioMask, mode: io.DigitalBank.Output });
    // The standard gives a bank no initial value, so the first thing written is "all coils dead".
    this.#write(0);
  }

  /** Coils energised at present. */
  get commandedMask(): number {
    return this.#commandedMask;
  }

  /** True while contacts may still be on their way. */
  isMoving(nowMs: number): boolean {
    return this.#nextStep < this.#steps.length || nowMs < this.#readyAtMs;
  }

  /** Starts a move; what was under way is replaced, from the contacts as they are. */
  moveTo(contactMask: number, nowMs: number): void {
    // What still has to drop is dropped before anything moves anew.
    this.#steps = planMove(this.#commandedMask, contactMask);
    this.#nextStep = 0;
    this.tick(nowMs);
  }

  /**
   * The output's coil dead at once, every other when its contact has opened: it is made to break what flows in a fault, the
   * others are not.
   */
  dropAll(nowMs: number, settleMs: number): void {
    this.#steps = [{ contactMask: 0, waitMs: settleMs }];
    this.#nextStep = 0;
    this.#readyAtMs = nowMs + OUTPUT_FIRST_MS;
    this.#write(this.#commandedMask & ~contactBits.outputMask);
  }

  /** Takes the next step when the wait of the last one is over. */
  tick(nowMs: number): void {
    if (nowMs < this.#readyAtMs) return;
    const step = this.#steps[this.#nextStep];
    if (step === undefined) return;
    this.#nextStep += 1;
    this.#readyAtMs = nowMs + step.waitMs;
    this.#write(step.contactMask);
  }

  #write(contactMask: number): void {
    this.#commandedMask = contactMask;
    this.#bank.write(gpioFromContacts(contactMask));
  }
}
