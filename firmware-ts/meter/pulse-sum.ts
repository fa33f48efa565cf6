/** Sums over a stretch of terminal voltage, from which mean, heat and duty follow. Source of all: plain integrals. */
export class PulseSum {
  /** Length of the stretch, and the integral of the voltage over it. */
  ms = 0;
  microvoltMs = 0;
  /** Whole periods in it; 0 for a stretch that was cut by time alone. */
  periods = 0;
  high = -Infinity;
  low = Infinity;
  /** Samples well inside a pulse and well between two, with their sums and squares (volt). */
  highCount = 0;
  highVolt = 0;
  highSquares = 0;
  lowCount = 0;
  lowVolt = 0;
  lowSquares = 0;

  clear(): void {
    this.ms = 0;
    this.microvoltMs = 0;
    this.periods = 0;
    this.high = -Infinity;
    this.low = Infinity;
    this.highCount = 0;
    this.highVolt = 0;
    this.highSquares = 0;
    this.lowCount = 0;
    this.lowVolt = 0;
    this.lowSquares = 0;
  }

  /** A sample whose neighbours on both sides are on its own side, so that no edge falls into it. */
  addPlateau(isHigh: boolean, volt: number): void {
    if (isHigh) {
      this.highCount += 1;
      this.highVolt += volt;
      this.highSquares += volt * volt;
    } else {
      this.lowCount += 1;
      this.lowVolt += volt;
      this.lowSquares += volt * volt;
    }
  }

  addAll(other: PulseSum): void {
    this.ms += other.ms;
    this.microvoltMs += other.microvoltMs;
    this.periods += other.periods;
    this.highCount += other.highCount;
    this.highVolt += other.highVolt;
    this.highSquares += other.highSquares;
    this.lowCount += other.lowCount;
    this.lowVolt += other.lowVolt;
    this.lowSquares += other.lowSquares;
  }
}
