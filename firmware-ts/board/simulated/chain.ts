import { contactBits, elements, outputRelay, path, relay } from '../reference-design';
import { SimulatedContact } from './contact';
import type { Random } from './random';

/** Contacts, as the world may weld them: an element's index, the limiter, the output. */
export type ContactName = number | 'limiter' | 'output';

const MILLIOHM_PER_OHM = 1000;
const LIMITER = elements.length;
const OUTPUT = elements.length + 1;
/** A closed contact repeats within about this, standard deviation; two poles in parallel. From memory. */
const REPEAT_OHM = 0.008;
const LEAST_OHM = 0.003;

const limiterBit = Math.log2(contactBits.limiterBypassMask);
const outputBit = Math.log2(contactBits.outputMask);

const within = (random: Random, milliohm: number, tolerancePercent: number): number =>
  (milliohm / MILLIOHM_PER_OHM) * (1 + random.between(-tolerancePercent, tolerancePercent) / 100);

/** The resistance chain as it was really soldered: parts inside their tolerance, contacts with resistance of their own. */
export class SimulatedChain {
  readonly elementOhm: readonly number[];
  readonly limiterOhm: number;
  readonly shuntOhm: number;
  readonly #fixedOhm: number;
  readonly #contactOhm: readonly number[];
  /** What each contact has now: it closes a little differently every time. */
  readonly #closedOhm: number[];
  readonly #random: Random;
  #mask = 0;
  readonly #contacts: readonly SimulatedContact[];

  constructor(random: Random) {
    this.elementOhm = elements.map(({ nominalMilliohm, tolerancePercent }) =>
      within(random, nominalMilliohm, tolerancePercent),
    );
    this.limiterOhm = within(random, path.limiter.milliohm, path.limiter.tolerancePercent);
    this.shuntOhm = within(random, path.shunt.milliohm, path.shunt.tolerancePercent);
    this.#fixedOhm = (path.fuse.coldMilliohm + path.lead.milliohm) / MILLIOHM_PER_OHM + this.shuntOhm;
    const { typicalMilliohm } = path.contact;
    this.#contactOhm = Array.from({ length: OUTPUT + 1 }, () => within(random, typicalMilliohm, 60));
    this.#closedOhm = [...this.#contactOhm];
    this.#random = random;
    this.#contacts = Array.from(
      { length: OUTPUT + 1 },
      (_, index) => new SimulatedContact(index === OUTPUT ? outputRelay : relay, random),
    );
  }

  /** Coils as driven, while the coil rail is up. */
  energise(contactMask: number, atMs: number): void {
    for (let index = 0; index <= OUTPUT; index += 1) {
      const bit = index === OUTPUT ? outputBit : index === LIMITER ? limiterBit : index;
      const isOn = ((contactMask >> bit) & 1) === 1;
      if (isOn && ((this.#mask >> bit) & 1) === 0) this.#closeAnew(index);
      this.#contacts[index]!.energise(isOn, atMs);
    }
    this.#mask = contactMask;
  }

  contact(name: ContactName): SimulatedContact | undefined {
    return this.#contacts[name === 'output' ? OUTPUT : name === 'limiter' ? LIMITER : name];
  }

  /** Resistance from SENDER clip to box common at an instant, infinite while the output is open. */
  pathOhm(atMs: number): number {
    if (!this.#contacts[OUTPUT]!.isClosed(atMs)) return Infinity;
    let sum = this.#fixedOhm + this.#closedOhm[OUTPUT]!;
    for (let index = 0; index <= LIMITER; index += 1) {
      const inserted = index === LIMITER ? this.limiterOhm : this.elementOhm[index]!;
      const contact = this.#closedOhm[index]!;
      // A closed contact lies across its resistor.
      sum += this.#contacts[index]!.isClosed(atMs) ? (contact * inserted) / (contact + inserted) : inserted;
    }
    return sum;
  }

  #closeAnew(index: number): void {
    const changed = this.#contactOhm[index]! + this.#random.normal() * REPEAT_OHM;
    this.#closedOhm[index] = Math.max(LEAST_OHM, changed);
  }

  /** What a mask would make once every contact is at rest: the truth the accuracy figures are held against. */
  settledOhm(contactMask: number): number {
    let sum = this.#fixedOhm + this.#contactOhm[OUTPUT]!;
    for (let index = 0; index <= LIMITER; index += 1) {
      const bit = index === LIMITER ? limiterBit : index;
      const inserted = index === LIMITER ? this.limiterOhm : this.elementOhm[index]!;
      const contact = this.#contactOhm[index]!;
      const isClosed = ((contactMask >> bit) & 1) === 1;
      sum += isClosed ? (contact * inserted) / (contact + inserted) : inserted;
    }
    return sum;
  }
}
