export { settingForMarks, type MarkThatCounts } from './for-marks';
export { logSpaced } from './spacing';
export { nextRefinement, type PlanReading, type RefineOptions, type Refinement } from './refine';
export { seekMove, type SeekAnswer, type SeekMove, type SeekRange } from './seek';
