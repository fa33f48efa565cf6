/** Mean and its standard uncertainty of a run of samples, without keeping them. Source: Welford's recurrence. */
export class Average {
  count = 0;
  mean = 0;
  #squares = 0;

  restart(): void {
    this.count = 0;
    this.mean = 0;
    this.#squares = 0;
  }

  push(value: number): void {
    this.count += 1;
    const gap = value - this.mean;
    this.mean += gap / this.count;
    this.#squares += gap * (value - this.mean);
  }

  /** Standard uncertainty of the mean; with fewer than two samples nothing is known and it is the mean itself. */
  get uncertainty(): number {
    if (this.count < 2) return Math.abs(this.mean);
    return Math.sqrt(this.#squares / (this.count - 1) / this.count);
  }
}
