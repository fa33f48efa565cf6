export { ladderFromRows } from './ladder';
export type { Ladder, LadderElement, LadderRow } from './ladder';
export { contactsFor, ladderRangeOhm, largestStepOhm, madeMilliohm } from './setting';
export type { Setting } from './setting';
