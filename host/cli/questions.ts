import { createInterface, type Interface } from 'node:readline';
import type { Readable } from 'node:stream';

type Asked = {
  readonly input: Readable;
  /** A person types; otherwise lines come from a file or a program, ahead of their questions. */
  readonly isTerminal: boolean;
  readonly say: (text: string) => void;
};

/**
 * One reader for the whole run. Lines that are piped ahead of their question are kept. What a person typed before the
 * question was asked answers nothing: a reading given while the needle moves is no reading.
 */
export class Questions {
  readonly #asked: Asked;
  readonly #typed: string[] = [];
  readonly #waiting: ((line: string | undefined) => void)[] = [];
  #reader: Interface | undefined;
  #isOver = false;

  constructor(asked: Asked) {
    this.#asked = asked;
  }

  ask(question: string): Promise<string | undefined> {
    this.#reader ??= this.#open();
    // Without words nothing is asked: a list is typed or pasted, line after line.
    if (this.#asked.isTerminal && question !== '' && this.#typed.length > 0) {
      this.#asked.say('Typed before this was asked, so not taken.\n');
      this.#typed.length = 0;
    }
    this.#asked.say(question);
    const line = this.#typed.shift();
    if (line !== undefined || this.#isOver) return Promise.resolve(line);
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  /** Nobody is asked any more; whoever waits for a line gets none. */
  close(): void {
    this.#isOver = true;
    for (const next of this.#waiting.splice(0)) next(undefined);
    this.#reader?.close();
  }

  /** The program ends: what was typed ahead counts no more. */
  drop(): void {
    this.#typed.length = 0;
    this.close();
  }

  #open(): Interface {
    const { input } = this.#asked;
    const reader = createInterface({ input, terminal: false });
    reader.on('line', (line) => {
      const next = this.#waiting.shift();
      if (next === undefined && !this.#isOver) this.#typed.push(line);
      else next?.(line);
    });
    // A terminal that is gone reports an error here; nobody types any more.
    input.on('error', () => reader.close());
    reader.on('close', () => this.close());
    return reader;
  }
}
