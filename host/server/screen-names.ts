import type { Devices } from './devices';
import { sameName, plain } from './same-name';

/** What the program itself signs with, on the bench, in the journal, for pages, for programs and in the terminal. */
const OWN_SIGNATURES = ['bench', 'journal', 'page', 'program', 'terminal', 'host', 'simulated operator'];
/** A screen that comes back is known by its key; more than this many keep their names. */
const MOST_KEPT = 500;

export const isOwnSignature = (name: string): boolean => OWN_SIGNATURES.some((own) => sameName(own, name));

export type Greeter = {
  /** A paired device; undefined: this machine. */
  readonly device: { readonly id: string; readonly name: string } | undefined;
  /** What the screen would like to be called. Counts on this machine only. */
  readonly wanted: string;
  /** Known to this screen alone: a reload keeps its name, nobody else gets it. */
  readonly key: string;
};

/**
 * The name each screen signs with, kept by the host from the greeting on. No two screens have the same, none has one of
 * the program's own, and none of this machine has that of a paired device.
 */
export class ScreenNames {
  readonly #names = new Map<string, { readonly base: string; readonly name: string }>();
  readonly #devices: Devices;

  constructor(devices: Devices) {
    this.#devices = devices;
  }

  nameFor({ device, wanted, key }: Greeter): string {
    const base = device?.name ?? this.#permitted(wanted);
    const owner = `${device?.id ?? 'here'}\n${key}`;
    const kept = this.#names.get(owner);
    const name = kept !== undefined && kept.base === base ? kept.name : this.#free(base);
    this.#names.delete(owner);
    this.#names.set(owner, { base, name });
    const [oldest] = this.#names.keys();
    if (this.#names.size > MOST_KEPT && oldest !== undefined) this.#names.delete(oldest);
    return name;
  }

  #permitted(wanted: string): string {
    const isDevice = this.#devices.list().some(({ name }) => plain(wanted).startsWith(plain(name)));
    return isOwnSignature(wanted) || isDevice ? 'screen' : wanted;
  }

  #free(base: string): string {
    const taken = [...this.#names.values()];
    for (let count = 2, name = base; ; count += 1) {
      if (!taken.some((each) => sameName(each.name, name))) return name;
      name = `${base} (${count})`;
    }
  }
}
