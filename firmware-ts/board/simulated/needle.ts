import type { SimulatedGauge } from './gauges/catalogue';
import type { Draw, Feed } from './gauges/mechanism';
import type { Random } from './random';

/** The stops stand a little outside the outermost marks. */
const LOW_STOP = -0.04;
const HIGH_STOP = 1.05;
/** A needle never comes to rest twice at exactly the same place: part of the scale, standard deviation. */
const SCATTER_FRACTION = 0.001;

/** The pointer of a gauge: it lags, sticks, and ends at its stops. */
export class Needle {
  readonly #gauge: SimulatedGauge;
  readonly #random: Random;
  readonly #firstDrive: number;
  readonly #driveSpan: number;
  #inner = 0;
  #lagged = 0;
  #position = 0;
  #scatter = 0;
  #hasStarted = false;

  constructor(gauge: SimulatedGauge, random: Random) {
    this.#gauge = gauge;
    this.#random = random;
    const { marks, mechanism, originalSender } = gauge;
    this.#firstDrive = mechanism.steadyDrive(originalSender(marks[0]!.reading));
    this.#driveSpan =
      mechanism.steadyDrive(originalSender(marks[marks.length - 1]!.reading)) - this.#firstDrive;
  }

  /** Part of the scale, 0 at the first mark. */
  get angleFraction(): number {
    return this.#position;
  }

  /** A new resistance: the needle will come to rest a hair elsewhere than last time. */
  disturb(): void {
    this.#scatter = this.#random.normal() * SCATTER_FRACTION;
  }

  /** Moves on by a stretch of the needle's own time. */
  step(feed: Feed, draw: Draw, elapsedMs: number): void {
    const drive = this.#gauge.mechanism.drive(feed, draw);
    if (!this.#hasStarted) [this.#inner, this.#lagged, this.#hasStarted] = [drive, drive, true];
    this.#lag(drive, elapsedMs);
    const wanted = (this.#lagged - this.#firstDrive) / this.#driveSpan + this.#scatter;
    // Play: the needle follows only what exceeds half the width of friction.
    const friction = this.#gauge.mechanism.frictionFraction;
    const followed = Math.max(wanted - friction, Math.min(wanted + friction, this.#position));
    this.#position = Math.max(LOW_STOP, Math.min(HIGH_STOP, followed));
  }

  /** Two lags in a row under a drive that stands still. Source: y = d + C exp(-t/a) + K exp(-t/b), C = (x0 - d) a / (a - b). */
  #lag(drive: number, elapsedMs: number): void {
    const { lagMs, innerLagMs } = this.#gauge.mechanism;
    const inner = innerLagMs > 0 ? Math.exp(-elapsedMs / innerLagMs) : 0;
    const shared = ((this.#inner - drive) * innerLagMs) / (innerLagMs - lagMs);
    this.#inner = drive + (this.#inner - drive) * inner;
    this.#lagged = drive + shared * inner + (this.#lagged - drive - shared) * Math.exp(-elapsedMs / lagMs);
  }
}
