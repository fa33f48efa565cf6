import { contactBits, elements, path } from '../board/reference-design';

/** Rows of the element table: the elements, then the limiter, then the residual. */
export const elementCount = elements.length;
export const limiterRow = elementCount;
export const residualRow = elementCount + 1;
export const rowCount = elementCount + 2;

/** Contact of the limiter in the mask: the same however many elements there are. */
export const limiterBit = Math.log2(contactBits.limiterBypassMask);

/** Contact that shorts a row, element or limiter. */
export const bitOfRow = (row: number): number => (row === limiterRow ? limiterBit : row);

/** Two poles in parallel repeat within about 10 milliohm each time they close: from memory, confirm on the parts. */
export const contactRepeatMilliohm = 10;

/** What each row of the chain measures, and how well that is known. Filled from the calibration. */
export class ElementTable {
  readonly milliohm = new Float64Array(rowCount);
  readonly uncertaintyMilliohm = new Float64Array(rowCount);

  /** Printed values: what a box without a calibration has to go by, never good enough to arm. */
  fillNominal(): void {
    for (let row = 0; row < elementCount; row += 1) this.#put(row, elements[row]!.nominalMilliohm, 0.01);
    this.#put(limiterRow, path.limiter.milliohm, path.limiter.tolerancePercent / 100);
    const contacts = elementCount + 2;
    const { contact, fuse, lead, shunt } = path;
    const residual =
      contacts * contact.typicalMilliohm + fuse.coldMilliohm + 2 * lead.milliohm + shunt.milliohm;
    this.#put(residualRow, residual, 0.3);
  }

  /** What the contacts of a mask leave in the path, residual included, milliohm. */
  madeMilliohm(contactMask: number): number {
    let sum = this.milliohm[residualRow]!;
    for (let row = 0; row < elementCount; row += 1) {
      if (((contactMask >> row) & 1) === 0) sum += this.milliohm[row]!;
    }
    return isLimiterIn(contactMask) ? sum + this.milliohm[limiterRow]! : sum;
  }

  /**
   * Standard uncertainty of that sum, milliohm: the rows were measured against one reference, so their errors are
   * added straight. Contacts repeat independently, those that are closed now and those that were closed when the row of
   * an open one was measured, so theirs are added in squares.
   */
  madeUncertaintyMilliohm(contactMask: number): number {
    let rows = this.uncertaintyMilliohm[residualRow]!;
    for (let row = 0; row <= limiterRow; row += 1) {
      if (isInserted(contactMask, row)) rows += this.uncertaintyMilliohm[row]!;
    }
    return Math.sqrt(rows * rows + rowCount * contactRepeatMilliohm * contactRepeatMilliohm);
  }

  #put(row: number, milliohm: number, relativeLimit: number): void {
    this.milliohm[row] = milliohm;
    this.uncertaintyMilliohm[row] = (milliohm * relativeLimit) / Math.sqrt(3);
  }
}

/** True when the row's resistor is in the path. */
export const isInserted = (contactMask: number, row: number): boolean =>
  ((contactMask >> bitOfRow(row)) & 1) === 0;

export const isOutputClosed = (contactMask: number): boolean => (contactMask & contactBits.outputMask) !== 0;
export const isLimiterIn = (contactMask: number): boolean =>
  (contactMask & contactBits.limiterBypassMask) === 0;
