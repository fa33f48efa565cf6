import { firmwareBundle } from '../../../host/firmware-bundle.mjs';
import type { StartFirmware } from '../../../firmware-ts/board/simulated/bench';
import { Chip } from './chip';
import type { ChipListener, Spent } from './chip';
import { SyncEngine } from './engine';

/** The firmware inside the real XS engine, in chip time, for as many boxes one after the other as a test file wants. */
export class ChipFirmware {
  readonly #engine = new SyncEngine();
  #listener: ChipListener = () => undefined;

  private constructor(script: string) {
    this.#engine.evaluate(script);
  }

  static async load(
    board: 'reference' | 'first-build' = 'reference',
    converter: 'first' | 'second' = 'first',
  ): Promise<ChipFirmware> {
    const { text } = await firmwareBundle(new URL('xs-board.ts', import.meta.url).pathname, {
      format: 'iife',
      board,
      converter,
    });
    return new ChipFirmware(text);
  }

  /** Starts a box; what ran before in this engine is forgotten. */
  readonly start: StartFirmware = (device, world) =>
    new Chip(this.#engine, { device, world }, (spent) => this.#listener(spent));

  /** Everything the chip did while `run` ran. */
  spentIn(run: () => void): Spent[] {
    const spent: Spent[] = [];
    this.listening((one) => spent.push(one), run);
    return spent;
  }

  /** Tells of everything the chip does while `run` runs; keeps none of it. */
  listening<Result>(listener: ChipListener, run: () => Result): Result {
    this.#listener = listener;
    try {
      return run();
    } finally {
      this.#listener = () => undefined;
    }
  }

  quit(): void {
    this.#engine.quit();
  }
}
