export { angleFractionAt, dialFromMarks, readingForAngle, scaleEnds } from './dial';
export type { Dial, DialMark, DialRefusalCode } from './dial';
export { offScale } from './off-dial';
export type { OffScale } from './off-dial';
export { person, soughtPart } from './person';
export { placeOf, placeStep, readingOf, readingSpread } from './place';
