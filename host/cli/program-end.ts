import { systemClock, type LinkClock, type OpenedForGood } from '../link';

/** An output that this program may have closed. */
export type WatchedOutput = {
  /** What a person calls the box. */
  readonly title: string;
  /** Opens it, lets nothing close it again, and tells what the box answered; the same when asked again. */
  openForGood(): Promise<OpenedForGood>;
};

export type Outputs = {
  /** From now on this output is opened first, however the program ends. */
  add(output: WatchedOutput): void;
  /** Opens all of them. Says what every box answered, or only what is no confirmation. */
  openAll(say: 'everything' | 'troubles'): Promise<void>;
};

export type ProgramEndDoor = {
  readonly err: (line: string) => void;
  /** Ends the program; `at-once`: without waiting for anything that is under way. */
  readonly exit: (code: number, how?: 'tidy' | 'at-once') => void;
  readonly clock?: LinkClock;
};

/** From the first word to the end of the program, whatever hangs; five seconds are promised. */
const END_WITHIN_MS = 4_500;
const FAULT_CODE = 1;

/**
 * How the program ends before its work is done: told to (Ctrl-C, a closed terminal), or by a fault of its own. First every
 * output is opened, and the terminal says what each box answered; only then is the work told to end.
 */
export class ProgramEnd {
  /** Resolves when the outputs have been told to open; then the work ends in its own order. */
  readonly interrupted: Promise<void>;
  readonly outputs: Outputs;
  readonly #door: ProgramEndDoor;
  readonly #watched = new Set<WatchedOutput>();
  readonly #told = new Set<WatchedOutput>();
  #interrupt: () => void = () => undefined;
  #stage: 'at-work' | 'opening' | 'opened' = 'at-work';
  #hasFault = false;
  /** What the work ended with, once it has. */
  #workCode: number | undefined;

  constructor(door: ProgramEndDoor) {
    this.#door = door;
    this.interrupted = new Promise((resolve) => (this.#interrupt = resolve));
    this.outputs = {
      add: (output) => void this.#watched.add(output),
      openAll: (say) => this.#openAll(say),
    };
  }

  /** Told to end. Told once more: at once, but never before the outputs were told to open. */
  told(exitCode: number): void {
    if (this.#stage === 'at-work') return this.#end(exitCode);
    if (this.#stage === 'opened') return this.#door.exit(exitCode);
    this.#door.err('needlewright: the output is opened first; the program ends right after that');
  }

  /** Nobody reads what the program writes any more. */
  unheard(): void {
    if (this.#stage === 'at-work') this.#end(0);
  }

  /** Something was thrown that nobody caught: what the program believes is worth nothing now. */
  fault(error: unknown): void {
    const detail = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.#door.err(`needlewright: a fault of this program, please report it: ${detail}`);
    this.#hasFault = true;
    if (this.#stage === 'at-work') this.#end(FAULT_CODE);
  }

  /** The work has ended. Answers what the program exits with: by itself, unless it was told to end; then at once. */
  workEnded(code: number): number {
    const exitCode = this.#hasFault ? FAULT_CODE : code;
    this.#workCode = exitCode;
    // Whatever is still open must not keep a program alive that was told to end.
    if (this.#stage === 'opened') this.#door.exit(exitCode);
    return exitCode;
  }

  #end(exitCode: number): void {
    if (this.#watched.size === 0) return this.#door.exit(exitCode);
    this.#stage = 'opening';
    (this.#door.clock ?? systemClock).after(END_WITHIN_MS, () => {
      this.#door.err('needlewright: not everything could be ended in time; the program ends now');
      this.#door.exit(FAULT_CODE, 'at-once');
    });
    void this.#openAll('everything').then(() => {
      this.#stage = 'opened';
      this.#interrupt();
      if (this.#workCode !== undefined) this.#door.exit(this.#workCode);
    });
  }

  async #openAll(say: 'everything' | 'troubles'): Promise<void> {
    // All of them are told before the first answer is waited for.
    const opening = [...this.#watched].map(async (output) =>
      this.#tell(output, await outcomeOf(output), say),
    );
    await Promise.allSettled(opening);
  }

  #tell(output: WatchedOutput, outcome: OpenedForGood, say: 'everything' | 'troubles'): void {
    if (this.#told.has(output) || (say === 'troubles' && outcome !== 'box-silent')) return;
    this.#told.add(output);
    this.#door.err(outcomeWords[outcome](output.title));
  }
}

const outcomeOf = async (output: WatchedOutput): Promise<OpenedForGood> => {
  try {
    return await output.openForGood();
  } catch {
    return 'box-silent';
  }
};

const BY_ITSELF = 'opens its output by itself within 2 s without heartbeats';
const outcomeWords: Record<OpenedForGood, (title: string) => string> = {
  'box-confirmed-open': (title) => `output open: ${title} confirmed it`,
  'box-silent': (title) =>
    `NOT CONFIRMED: ${title} did not answer; it ${BY_ITSELF}; if you are not sure, switch the supply off, then pull the fused clip`,
  'no-box': () => `no box is connected; one that was cut off while it drove ${BY_ITSELF}`,
};
