import { PITCH_MM } from './board';

/**
 * Outlines of the parts on the strip boards, mm. Read: RS02B (R1 to R5), DO-201 and DO-15 suppressors, G6S-2 and PA1a; the others are
 * makers' outlines from memory. A part that is bigger than here meets its neighbour.
 */
export type Outline =
  | { readonly kind: 'lying'; readonly length: number; readonly diameter: number }
  /** Stands on leads in the middle of its outline: `along` the line of its leads, `across` it. */
  | { readonly kind: 'standing'; readonly along: number; readonly across: number }
  /** Leads in one row; the outline reaches `beyond` the outer ones. */
  | { readonly kind: 'row'; readonly beyond: number; readonly across: number }
  /** Leads in two rows, the first lead at an end; the outline reaches beyond that end, beyond the other, and outside the rows. */
  | { readonly kind: 'two rows'; readonly first: number; readonly last: number; readonly outside: number }
  | { readonly kind: 'wire' };

const lying = (length: number, diameter: number): Outline => ({ kind: 'lying', length, diameter });
const standing = (along: number, across: number): Outline => ({ kind: 'standing', along, across });
const row = (across: number, beyond = 1.2): Outline => ({ kind: 'row', beyond, across });
const twoRows = (first: number, outside: number, last = first): Outline => ({
  kind: 'two rows',
  first,
  last,
  outside,
});

const outlines: readonly (readonly [references: RegExp, outline: Outline])[] = [
  [/^R[1-5]$/, lying(15.8, 5.5)],
  [/^R[68]$/, lying(24, 8.1)],
  [/^R7$/, lying(32, 8.1)],
  [/^R15$/, lying(44, 9.5)],
  [/^R34–R37$/, twoRows(1, 0.5)],
  [/^R/, lying(6.5, 2.4)],
  [/^C(24|50|51)$/, standing(7.2, 5)],
  [/^C52$/, standing(16, 16)],
  [/^C9[02]$/, standing(10, 10)],
  [/^C91$/, standing(8, 8)],
  [/^C/, standing(5.5, 2.4)],
  [/^D2[0-3]$/, row(2.2)],
  [/^D(1|25|34|35)$/, lying(9.5, 5.3)],
  [/^D(18|19|31|37)$/, lying(7.6, 3.6)],
  [/^D(27|30|36)$/, lying(5.2, 2.7)],
  [/^D/, lying(4.2, 2)],
  [/^Q(17|22|23|26)$/, row(2.2)],
  [/^Q20$/, row(4.6, 2.4)],
  [/^Q24$/, twoRows(1, 0.5)],
  [/^(Q|U14)/, row(4.2)],
  [/^K16$/, row(5, 1.1)],
  [/^K/, twoRows(1.1, 1.1, 3.5)],
  [/^U10$/, twoRows(1.4, 1.6)],
  [/^U15$/, row(9.3, 2)],
  [/^U/, twoRows(1, 0.5)],
  [/^F3$/, standing(7.4, 3)],
  [/^NT1$/, { kind: 'wire' }],
];

/** A wire from a socket, a post or the lamp ends in its hole: nothing stands there. */
export const isPad = (reference: string): boolean => /^(J\d|D38|U12)/.test(reference);

/** Outline of a part. Throws for one that the boards do not carry. */
export function outlineOf(reference: string): Outline {
  const found = outlines.find(([references]) => references.test(reference));
  if (found === undefined) throw new Error(`no outline for ${reference}`);
  return found[1];
}

/** Room a part takes up in holes: rows and columns, not whole ones. */
export type Room = {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
};

/** The room of a part over the holes of its leads. */
export function roomOf(reference: string, holes: readonly (readonly [row: number, column: number])[]): Room {
  const rows = holes.map(([each]) => each);
  const columns = holes.map(([, each]) => each);
  const [top, bottom] = [Math.min(...rows), Math.max(...rows)];
  const [left, right] = [Math.min(...columns), Math.max(...columns)];
  const outline = outlineOf(reference);
  const isUpright = bottom - top >= right - left;
  const around = (along: number, across: number): Room => {
    const middle = [(top + bottom) / 2, (left + right) / 2] as const;
    const [tall, wide] = (isUpright ? [along, across] : [across, along]).map((mm) => mm / 2 / PITCH_MM);
    return {
      top: Math.min(top, middle[0] - (tall ?? 0)),
      bottom: Math.max(bottom, middle[0] + (tall ?? 0)),
      left: Math.min(left, middle[1] - (wide ?? 0)),
      right: Math.max(right, middle[1] + (wide ?? 0)),
    };
  };
  switch (outline.kind) {
    case 'lying':
      return around(outline.length, outline.diameter);
    case 'standing':
      return around(outline.along, outline.across);
    case 'row':
      return around(
        (isUpright ? bottom - top : right - left) * PITCH_MM + 2 * outline.beyond,
        outline.across,
      );
    case 'two rows': {
      const [first, last, outside] = [outline.first, outline.last, outline.outside].map(
        (mm) => mm / PITCH_MM,
      );
      const isFirstOnTop = holes[0]?.[0] === top;
      return {
        top: top - ((isFirstOnTop ? first : last) ?? 0),
        bottom: bottom + ((isFirstOnTop ? last : first) ?? 0),
        left: left - (outside ?? 0),
        right: right + (outside ?? 0),
      };
    }
    case 'wire':
      return { top, bottom, left, right };
  }
}
