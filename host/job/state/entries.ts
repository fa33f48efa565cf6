import type { JobEvent } from '../schema/events';
import type { Struck } from './state';

/** Drops the kind: the state keeps what was said, by whom and when. */
export const kept = <Event extends JobEvent>(event: Event): Omit<Event, 'kind'> => {
  const { kind, ...rest } = event;
  return rest;
};

/** Entries of one kind in the order they were given. A journal may hold many thousands: each is found by its id at once. */
export class Entries<Entry extends Struck> {
  readonly list: Entry[];
  readonly #idOf: (entry: Entry) => string;
  #places: Map<string, number[]> | undefined;

  constructor(given: readonly Entry[], idOf: (entry: Entry) => string) {
    this.list = [...given];
    this.#idOf = idOf;
  }

  add(entry: Entry): void {
    this.list.push(entry);
    if (this.#places !== undefined) this.#note(this.#places, entry, this.list.length - 1);
  }

  /** Marks the entry as struck, and leaves the others as they are. */
  strike(id: string, reason: string): void {
    this.change(id, (entry) => ({ ...entry, struckBecause: reason }));
  }

  change(id: string, change: (entry: Entry) => Entry): void {
    this.#places ??= this.#noted();
    for (const place of this.#places.get(id) ?? []) {
      const entry = this.list[place];
      if (entry !== undefined) this.list[place] = change(entry);
    }
  }

  #noted(): Map<string, number[]> {
    const places = new Map<string, number[]>();
    for (const [place, entry] of this.list.entries()) this.#note(places, entry, place);
    return places;
  }

  #note(places: Map<string, number[]>, entry: Entry, place: number): void {
    const id = this.#idOf(entry);
    const known = places.get(id);
    if (known === undefined) places.set(id, [place]);
    else known.push(place);
  }
}
