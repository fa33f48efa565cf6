import type { Alarm, Clock } from '../../../firmware-ts/board/pico/emulator/rp2040';

/** Time that goes on when told to, and calls what is due on the way. */
export class LentClock implements Clock {
  nanos = 0;
  readonly #due = new Map<Alarm, { readonly atNanos: number; readonly callback: () => void }>();

  get nanosToNextAlarm(): number {
    return Math.min(...[...this.#due.values()].map(({ atNanos }) => atNanos - this.nanos));
  }

  createAlarm(callback: () => void): Alarm {
    const alarm: Alarm = {
      schedule: (deltaNanos) => this.#due.set(alarm, { atNanos: this.nanos + deltaNanos, callback }),
      cancel: () => this.#due.delete(alarm),
    };
    return alarm;
  }

  tick(deltaNanos: number): void {
    const until = this.nanos + deltaNanos;
    while (this.nanosToNextAlarm <= until - this.nanos) {
      const [first] = [...this.#due].sort(([, one], [, other]) => one.atNanos - other.atNanos);
      if (first === undefined) break;
      const [alarm, { atNanos, callback }] = first;
      this.#due.delete(alarm);
      this.nanos = atNanos;
      callback();
    }
    this.nanos = until;
  }
}
