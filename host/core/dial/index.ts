export { angleFractionAt, dialFromMarks, evenMarks, readingForAngle, scaleEnds } from './dial';
export type { Dial, DialMark, DialRefusalCode } from './dial';
export { offDialWords } from './off-dial';
export { person, soughtPart } from './person';
export { placeOf, placeStep, readingOf, readingSpread } from './place';
