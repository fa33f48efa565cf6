import { BoxCircuit } from './box-circuit';
import { Chip } from './chip';
import type { ChipParts, ChipStart } from './chip';
import { HostLine } from './host-line';
import { Tally } from './tally';

/** A box: the chip with its image, the circuit round it, a host at the other end of the line, and who counts. */
export class Rig {
  readonly chip: Chip;
  readonly box: BoxCircuit;
  readonly line: HostLine;
  readonly tally: Tally;
  resetCount = 0;

  constructor(parts: ChipParts, start: ChipStart) {
    this.chip = new Chip(parts, start);
    this.box = new BoxCircuit(this.chip);
    this.line = new HostLine(this.chip);
    this.tally = new Tally(this.chip, this.box);
    this.chip.onReset = () => {
      this.resetCount += 1;
    };
  }

  /** Lets so much time pass. */
  pass(ms: number): void {
    this.chip.runUntil(this.chip.clock.nanos + ms * 1e6);
  }

  greet(hostNonce = 5): boolean {
    const fields = { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce, hostDay: HOST_DAY } as const;
    return this.line.ask({ name: 'hello', fields })?.kind === 'answer';
  }
}

/** Any day: the box has no calendar and believes the host. */
const HOST_DAY = 20_800;
