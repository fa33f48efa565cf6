/** One line of the parts list: references on the drawings, how many, what to ask for, and why it must be so. */
export type PartLine = {
  readonly references: string;
  readonly count: number;
  readonly part: string;
  readonly why: string;
};
