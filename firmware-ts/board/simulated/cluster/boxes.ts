import { SimulatedBox } from '../bench';
import { applyChange } from '../world-change';
import type { SimulatedCluster } from './clusters';
import { SharedCircuit } from './shared-circuit';

export type ClusterOptions = {
  readonly cluster: SimulatedCluster;
  /** How many of its gauges have a box; the others stand open, without a sender. */
  readonly count?: number;
  readonly seed: number;
  readonly speed?: number;
  readonly calibrationDay?: number;
  readonly bootSalt?: number;
  /** Which box drives which gauge: box k stands at gauge `order[k]`. */
  readonly order?: readonly number[];
  readonly sent: (box: number, bytes: Uint8Array) => void;
};

/** Serial numbers of the simulated boxes: the first one, and one more each. */
const FIRST_SERIAL = 1041;
/** All boxes see the same moment: none is ever further ahead of the others than one stretch of their physics. */
const TOGETHER_MS = 5;
const MAX_COMMON_OHM = 20;

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null;

/** Several boxes, each with a firmware and a world of its own, at the gauges of one cluster, in one virtual time. */
export class ClusterBoxes {
  readonly circuit = new SharedCircuit();
  readonly boxes: readonly SimulatedBox[];
  /** The gauge of each box. */
  readonly gaugeOf: readonly number[];
  readonly #cutLines = new Set<number>();

  constructor({ cluster, count = cluster.gauges.length, order, sent, ...options }: ClusterOptions) {
    this.gaugeOf = Array.from({ length: count }, (_, box) => order?.[box] ?? box);
    const places = cluster.gauges.map(({ winding }) => this.circuit.join(winding));
    this.boxes = this.gaugeOf.map((at, box) => {
      const { gauge } = cluster.gauges[at]!;
      return new SimulatedBox({
        ...options,
        gauge,
        seed: options.seed + box,
        place: places[at]!,
        boxSerial: FIRST_SERIAL + box,
        sent: (bytes) => {
          if (!this.#cutLines.has(box)) sent(box, bytes);
        },
      });
    });
  }

  get nowMs(): number {
    return this.boxes[0]?.nowMs ?? 0;
  }

  receive(box: number, bytes: Uint8Array): void {
    if (!this.#cutLines.has(box)) this.boxes[box]?.receive(bytes);
  }

  /** A cable is pulled or plugged in again; the box goes on without it. */
  cutLine(box: number, isCut: boolean): void {
    if (isCut) this.#cutLines.add(box);
    else this.#cutLines.delete(box);
  }

  advance(byMs: number): void {
    for (let leftMs = byMs; leftMs > 0; leftMs -= TOGETHER_MS)
      for (const box of this.boxes) box.advance(Math.min(TOGETHER_MS, leftMs));
  }

  /**
   * One line of JSON: `{"box": 2, "change": {...}}` for one box's world, with `{"lineCut": true}` for its cable, or
   * `{"common": {"feedOhm": 0.5}}` for what all share. Answers what was wrong with it, or nothing.
   */
  applyChange(line: string): string | undefined {
    let parsed: unknown;
    try {
      parsed = JSON.parse(line);
    } catch {
      return `cluster: not JSON: ${line}`;
    }
    if (!isRecord(parsed)) return `cluster: not an object: ${line}`;
    if (isRecord(parsed['common'])) return this.#changeCommon(parsed['common']);
    const { box, change } = parsed;
    const changed = typeof box === 'number' ? this.boxes[box] : undefined;
    if (typeof box !== 'number' || changed === undefined || !isRecord(change))
      return 'cluster: must be {"box": 0.., "change": {...}} or {"common": {...}}';
    const { lineCut, ...rest } = change;
    if (typeof lineCut === 'boolean') this.cutLine(box, lineCut);
    return applyChange(changed, JSON.stringify(rest));
  }

  #changeCommon(change: Readonly<Record<string, unknown>>): string | undefined {
    const { common } = this.circuit;
    for (const [name, value] of Object.entries(change)) {
      if (name === 'isBatteryLeadOnBench' && typeof value === 'boolean') common[name] = value;
      else if ((name === 'feedOhm' || name === 'groundOhm') && isCommonOhm(value)) common[name] = value;
      else
        return `cluster: common.${name}: feedOhm and groundOhm are 0 to ${MAX_COMMON_OHM}, isBatteryLeadOnBench a flag`;
    }
    return undefined;
  }
}

const isCommonOhm = (value: unknown): value is number =>
  typeof value === 'number' && value >= 0 && value <= MAX_COMMON_OHM;
