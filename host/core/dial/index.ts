export { angleFractionAt, dialFromMarks, evenMarks, readingForAngle, scaleEnds } from './dial';
export type { Dial, DialMark, DialRefusalCode } from './dial';
export * from './units';
