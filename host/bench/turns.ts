/** One thing after the other, in the order asked; what fails does not hold up the next. */
export class Turns {
  readonly #first: () => Promise<unknown>;
  #last: Promise<unknown> = Promise.resolve();
  #waitingCount = 0;

  /** `first` is done before each. */
  constructor(first: () => Promise<unknown>) {
    this.#first = first;
  }

  /** Something was asked and is not done. */
  get isBusy(): boolean {
    return this.#waitingCount > 0;
  }

  take<Answer>(action: () => Promise<Answer>): Promise<Answer> {
    const answer = this.#last.then(this.#first).then(action);
    this.#waitingCount += 1;
    this.#last = answer.catch(() => undefined).then(() => (this.#waitingCount -= 1));
    return answer;
  }

  /** Resolves when everything asked so far has been done. Never rejects. */
  async done(): Promise<void> {
    await this.#last;
  }
}
