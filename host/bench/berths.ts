import type { Refused } from '../core/result';
import { refuse } from '../refusals';
import type { BoxLink, LinkEvent } from '../link';
import { Box, type Ladders } from './box/box';

/** Where a box is plugged in. `Desk`: whoever drives it, or drove it last. */
export type Berth<Desk> = {
  readonly link: BoxLink;
  readonly box: Box;
  driver: Desk | undefined;
};

export type BoxStopped = {
  /** As its last greeting said; left out when it never greeted. */
  readonly boxSerial?: number;
  readonly outcome: 'box-confirmed-open' | 'box-silent' | 'no-box';
};

/**
 * The boxes of one bench, known by the serial number of their greeting: where each is plugged in may change with every
 * replugging. One that is alone needs no number.
 */
export class Berths<Desk> {
  readonly all: readonly Berth<Desk>[];
  readonly ladders: Ladders = new Map();
  readonly #lastSerials = new Map<Berth<Desk>, number>();
  readonly #unsubscribes: readonly (() => void)[];

  constructor(links: readonly BoxLink[], heard: (berth: Berth<Desk>, event: LinkEvent) => void) {
    this.all = links.map((link) => ({ link, box: new Box(link, this.ladders), driver: undefined }));
    for (const berth of this.all) this.#note(berth);
    this.#unsubscribes = this.all.map((berth) =>
      berth.link.subscribe((event) => {
        berth.box.heard(event);
        this.#note(berth);
        if (event.kind === 'state' && event.state === 'closed') this.#lastSerials.delete(berth);
        heard(berth, event);
      }),
    );
  }

  /** Where something is plugged in, whether it answers or not. */
  get plugged(): readonly Berth<Desk>[] {
    return this.all.filter(({ link }) => link.state !== 'closed');
  }

  serialOf(berth: Berth<Desk>): number | undefined {
    return berth.box.serial ?? this.#lastSerials.get(berth);
  }

  /** The box of that number. Refuses BOX_NOT_HERE, BOX_SERIAL_TWICE. */
  ofSerial(serial: number): Berth<Desk> | Refused {
    const found = this.all.filter(({ box }) => box.serial === serial);
    const [berth] = found;
    if (berth === undefined) return refuse('BOX_NOT_HERE', { serial });
    return found.length > 1 ? refuse('BOX_SERIAL_TWICE', { serial }) : berth;
  }

  /** The only box there is, or the place where one would be. Refuses WHICH_BOX. */
  theOnly(): Berth<Desk> | Refused {
    const { plugged } = this;
    const berth = plugged[0] ?? this.all[0];
    if (berth === undefined || plugged.length > 1) {
      return refuse('WHICH_BOX', { serials: plugged.flatMap((each) => this.serialOf(each) ?? []) });
    }
    return berth;
  }

  #note(berth: Berth<Desk>): void {
    const { serial } = berth.box;
    if (serial !== undefined) this.#lastSerials.set(berth, serial);
  }

  end(): void {
    for (const unsubscribe of this.#unsubscribes) unsubscribe();
  }
}

/** What is said of several boxes at once: open only when each has confirmed it. */
export const worstOf = (stopped: readonly BoxStopped[]): BoxStopped['outcome'] => {
  if (stopped.some(({ outcome }) => outcome === 'box-silent')) return 'box-silent';
  return stopped.some(({ outcome }) => outcome === 'box-confirmed-open') ? 'box-confirmed-open' : 'no-box';
};
